// What each reader of an export gets of each field of the record.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "loadlight/app/export_record.h"
#include "loadlight/core/events.h"
#include "loadlight/port/store.h"
#include "loadlight/port/zone.h"

namespace loadlight::app {

enum class Gives {
  AsIs,
  Pseudonym,  // a name of this export alone, the same wherever it stands in it
  Month,      // of a time or a day
  Out,        // not at all
};

// Whose pseudonym.
enum class Alias { None, Office, Sterilizer, Load, Operator, Program };

// A field's text, and its local day where it is a time.
struct Cell final {
  std::string text;
  std::optional<core::CivilDate> day{};
};

// What was decided about a load: an event.
struct DecisionRow final {
  core::LoadName load;
  core::EventKind kind = core::EventKind::LoadReleased;
  port::PastEvent event;
};
// A package with who opened it.
struct PackageRow final {
  core::Package package;
  std::string opened_by;
};

template <class Record>
struct ExportField final {
  std::string_view name;
  Cell (*cell)(const Record&, const port::Zone&);
  Gives inspector;
  Gives technician;
  Gives research;
  Alias alias;
  std::string_view why;  // "export.why.<why>": for what is not given as it is

  Gives for_reader(ExportReader reader) const {
    switch (reader) {
      case ExportReader::Inspector:
        return inspector;
      case ExportReader::Technician:
        return technician;
      case ExportReader::Research:
        return research;
    }
    return Gives::Out;
  }
};

template <class Record>
struct ExportTable final {
  std::string_view name;  // of its file, and "export.record.<name>"
  std::span<const ExportField<Record>> fields;
};

template <class Record>
const ExportTable<Record>& export_table();
// One for each record that is exported.
template <> const ExportTable<core::Office>& export_table();
template <> const ExportTable<core::Operator>& export_table();
template <> const ExportTable<core::Sterilizer>& export_table();
template <> const ExportTable<core::OfficeProgram>& export_table();
template <> const ExportTable<core::Contents>& export_table();
template <> const ExportTable<core::PackageKind>& export_table();
template <> const ExportTable<core::Load>& export_table();
template <> const ExportTable<DecisionRow>& export_table();
template <> const ExportTable<core::IndicatorReading>& export_table();
template <> const ExportTable<core::BiologicalRun>& export_table();
template <> const ExportTable<core::BiologicalReading>& export_table();
template <> const ExportTable<core::CycleLog>& export_table();
template <> const ExportTable<core::ServiceEntry>& export_table();
template <> const ExportTable<core::Incident>& export_table();
template <> const ExportTable<core::IncidentStep>& export_table();
template <> const ExportTable<core::Accounting>& export_table();
template <> const ExportTable<PackageRow>& export_table();

}  // namespace loadlight::app
