// Use case: what the record says, for one reader outside the office: each gets what the reader needs and no more.
// Which field is whose stands in src/app/export_fields.cpp.
#pragma once

#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/core/dates.h"
#include "loadlight/core/vocabulary.h"
#include "loadlight/report/words.h"

namespace loadlight::app {

enum class ExportReader {
  Inspector,   // loads, evidence, releases, incidents and openings, by the operators' codes
  Technician,  // sterilizers, programs and what their loads showed
  Research,    // loads and evidence under names of this export alone, by the month, without typed sentences
};

struct ExportRequest final {
  std::string operator_code;
  ExportReader reader = ExportReader::Inspector;
  // Of loads started, incidents opened and services done on these days, both included.
  core::CivilDate first = *core::CivilDate::from(1900, 1, 1);
  core::CivilDate last = *core::CivilDate::from(9999, 12, 31);
};

struct RecordExport final {
  std::string name;     // of the file: "loadlight-inspector-2026-11-28.tar"
  std::string archive;  // README.txt, which says what is left out, and a table for each kind of record (CSV)
  int loads = 0;
};

// LeadRequired; BadValue (field to) for days in the wrong order. The event is on the record before anything is
// handed out: who exported what for whom.
core::Result<RecordExport> export_record(const Ports& ports, const report::Words& words,
                                         const ExportRequest& request);

}  // namespace loadlight::app

namespace loadlight::core {
template <>
struct Vocabulary<app::ExportReader> {
  static constexpr Term<app::ExportReader> kTerms[] = {{app::ExportReader::Inspector, "inspector"},
                                                       {app::ExportReader::Technician, "technician"},
                                                       {app::ExportReader::Research, "research"}};
};
}  // namespace loadlight::core
