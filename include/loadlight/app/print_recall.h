// Use cases: a recall as paper to walk the shelves with, and as a table.
#pragma once

#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/app/print_record.h"

namespace loadlight::app {

// IncidentUnknown; else the PDF, made of what the record holds now.
core::Result<std::string> recall_notice_pdf(const Ports& ports, const PageShop& shop, int incident);

// IncidentUnknown; else every suspect package in exchange form (exchange/csv.h), a line each.
core::Result<std::string> recall_csv(const Ports& ports, int incident);

}  // namespace loadlight::app
