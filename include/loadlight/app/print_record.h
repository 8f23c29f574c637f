// Use cases: the load record as a page an inspector can read, and a period's record as one bound document
// and as a table.
#pragma once

#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/core/dates.h"
#include "loadlight/report/words.h"

namespace loadlight::app {

enum class PageSize { A4, Letter };

// What turns a document into pages.
struct PageShop final {
  const label::TextGauge& gauge;
  const label::Press& press;
  const report::Words& words;
  PageSize paper = PageSize::A4;
};

// LoadUnknown; else the PDF, made of what the record holds now.
core::Result<std::string> load_record_pdf(const Ports& ports, const PageShop& shop,
                                          const core::LoadName& name);

// Loads that were started on these days, both included, by day, sterilizer and run.
struct PeriodRequest final {
  core::CivilDate first = *core::CivilDate::from(1900, 1, 1);
  core::CivilDate last = *core::CivilDate::from(1900, 1, 1);
  std::string sterilizer;  // empty: all
};

// A summary, then each load's record, bound and numbered as one. BadValue (detail: field) for days in the
// wrong order, and for more pages than a press takes.
core::Result<std::string> period_record_pdf(const Ports& ports, const PageShop& shop,
                                            const PeriodRequest& request);

// The same loads as a table in exchange form (exchange/csv.h), a line each.
core::Result<std::string> period_record_csv(const Ports& ports, const PeriodRequest& request);

}  // namespace loadlight::app
