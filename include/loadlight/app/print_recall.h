// Use case: a recall as paper to walk the shelves with.
#pragma once

#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/app/print_record.h"

namespace loadlight::app {

// IncidentUnknown; else the PDF, made of what the record holds now.
core::Result<std::string> recall_notice_pdf(const Ports& ports, const PageShop& shop, int incident);

}  // namespace loadlight::app
