// Events and changes: the only way the record moves.
// A Change is one event together with the records as they stand after it. The store writes both in one transaction, or
// neither: the records into their tables, the event onto the hash-chained ledger. So the ledger alone can rebuild every
// table, and a table that was altered behind the ledger's back shows.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "loadlight/core/evidence.h"
#include "loadlight/core/incident.h"
#include "loadlight/core/load.h"
#include "loadlight/core/office.h"
#include "loadlight/core/package.h"
#include "loadlight/core/upkeep.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// Every kind of event. The texts stand in the ledger: do not change one that has been released.
enum class EventKind {
  OfficeMade,
  OperatorAdded,
  OperatorRetired,
  SterilizerAdded,
  SterilizerRetired,
  ContentsAdded,
  ContentsRetired,
  KindAdded,
  KindRetired,
  LocationAdded,
  LocationRetired,
  StockAdded,
  StockRated,
  StockRetired,
  ProgramAdded,
  ProgramAccepted,
  ProgramRetired,
  ConsumableAdded,
  ConsumableRetired,
  LotRecalled,
  SettingChanged,
  SterilizerServiced,
  LabelsPrinted,
  LabelsReprinted,
  LabelReplaced,
  LabelVoided,
  LoadOpened,
  PackagesAdded,
  PackagesRemoved,
  LoadStarted,
  LoadFinished,
  LoadAborted,
  ReadingsRecorded,
  CycleLogRead,
  LeakTested,
  IndicatorRead,
  BiologicalPlaced,
  BiologicalMoved,
  BiologicalRead,
  LoadReleased,
  LoadQuarantined,
  LoadFailed,
  ReleaseRevoked,
  LoadRecalled,
  PackageChecked,
  PackageOpened,
  OpeningContradicted,
  InternalIndicatorRead,
  PackageWithdrawn,
  PackagesShelved,
  PackagesRecalled,
  AuditBegun,
  PackagesSeen,
  AuditEnded,
  IncidentOpened,
  IncidentStepDone,
  IncidentNarrowed,
  RecallWidened,
  PackageAccounted,
  IncidentClosed,
  ClockCorrected,
  PinSet,
  KeyAdded,
  StationInvited,
  CheckpointMade,
  RecordBackedUp,
  RecordRestored,
  RecordExported,
};

template <>
struct Vocabulary<EventKind> {
  static constexpr Term<EventKind> kTerms[] = {
      {EventKind::OfficeMade, "office-made"},
      {EventKind::OperatorAdded, "operator-added"},
      {EventKind::OperatorRetired, "operator-retired"},
      {EventKind::SterilizerAdded, "sterilizer-added"},
      {EventKind::SterilizerRetired, "sterilizer-retired"},
      {EventKind::ContentsAdded, "contents-added"},
      {EventKind::ContentsRetired, "contents-retired"},
      {EventKind::KindAdded, "kind-added"},
      {EventKind::KindRetired, "kind-retired"},
      {EventKind::LocationAdded, "location-added"},
      {EventKind::LocationRetired, "location-retired"},
      {EventKind::StockAdded, "stock-added"},
      {EventKind::StockRated, "stock-rated"},
      {EventKind::StockRetired, "stock-retired"},
      {EventKind::ProgramAdded, "program-added"},
      {EventKind::ProgramAccepted, "program-accepted"},
      {EventKind::ProgramRetired, "program-retired"},
      {EventKind::ConsumableAdded, "consumable-added"},
      {EventKind::ConsumableRetired, "consumable-retired"},
      {EventKind::LotRecalled, "lot-recalled"},
      {EventKind::SettingChanged, "setting-changed"},
      {EventKind::SterilizerServiced, "sterilizer-serviced"},
      {EventKind::LabelsPrinted, "labels-printed"},
      {EventKind::LabelsReprinted, "labels-reprinted"},
      {EventKind::LabelReplaced, "label-replaced"},
      {EventKind::LabelVoided, "label-voided"},
      {EventKind::LoadOpened, "load-opened"},
      {EventKind::PackagesAdded, "packages-added"},
      {EventKind::PackagesRemoved, "packages-removed"},
      {EventKind::LoadStarted, "load-started"},
      {EventKind::LoadFinished, "load-finished"},
      {EventKind::LoadAborted, "load-aborted"},
      {EventKind::ReadingsRecorded, "readings-recorded"},
      {EventKind::CycleLogRead, "cycle-log-read"},
      {EventKind::LeakTested, "leak-tested"},
      {EventKind::IndicatorRead, "indicator-read"},
      {EventKind::BiologicalPlaced, "biological-placed"},
      {EventKind::BiologicalMoved, "biological-moved"},
      {EventKind::BiologicalRead, "biological-read"},
      {EventKind::LoadReleased, "load-released"},
      {EventKind::LoadQuarantined, "load-quarantined"},
      {EventKind::LoadFailed, "load-failed"},
      {EventKind::ReleaseRevoked, "release-revoked"},
      {EventKind::LoadRecalled, "load-recalled"},
      {EventKind::PackageChecked, "package-checked"},
      {EventKind::PackageOpened, "package-opened"},
      {EventKind::OpeningContradicted, "opening-contradicted"},
      {EventKind::InternalIndicatorRead, "internal-indicator-read"},
      {EventKind::PackageWithdrawn, "package-withdrawn"},
      {EventKind::PackagesShelved, "packages-shelved"},
      {EventKind::PackagesRecalled, "packages-recalled"},
      {EventKind::AuditBegun, "audit-begun"},
      {EventKind::PackagesSeen, "packages-seen"},
      {EventKind::AuditEnded, "audit-ended"},
      {EventKind::IncidentOpened, "incident-opened"},
      {EventKind::IncidentStepDone, "incident-step-done"},
      {EventKind::IncidentNarrowed, "incident-narrowed"},
      {EventKind::RecallWidened, "recall-widened"},
      {EventKind::PackageAccounted, "package-accounted"},
      {EventKind::IncidentClosed, "incident-closed"},
      {EventKind::ClockCorrected, "clock-corrected"},
      {EventKind::PinSet, "pin-set"},
      {EventKind::KeyAdded, "key-added"},
      {EventKind::StationInvited, "station-invited"},
      {EventKind::CheckpointMade, "checkpoint-made"},
      {EventKind::RecordBackedUp, "record-backed-up"},
      {EventKind::RecordRestored, "record-restored"},
      {EventKind::RecordExported, "record-exported"},
  };
};

using Record = std::variant<Office, Operator, Sterilizer, Contents, PackageKind, Location, LabelStock, OfficeProgram,
                            Consumable, OfficeSetting, ServiceEntry, PrintRun, Package, Load, IndicatorReading,
                            BiologicalRun, BiologicalReading, CycleLog, Incident, IncidentStep, Accounting>;

struct Change final {
  EventKind kind = EventKind::PackageChecked;
  Instant at{};
  std::string operator_code;  // empty only for a check, which needs nobody's name, and where an office is made
  std::string subject;        // what it is about: a package, a load, a code
  // What the event says beside the records, in the order given; UTF-8, no patient's data.
  std::vector<std::pair<std::string, std::string>> details;
  std::vector<Record> records;
};

// A line of the ledger.
struct LedgerEntry final {
  // Of the whole ledger, rising. In the ledger of one station, whose chain has no name, from 1 without gaps.
  std::int64_t sequence = 0;
  Instant at{};
  std::string operator_code;
  std::string kind;     // text of an EventKind
  std::string subject;
  std::string body;     // JSON: details and records
  std::string previous; // hash of the entry before in its chain, 64 hex digits; zeros for the first
  std::string hash;     // SHA-256 over the fields above (src/store/ledger.cpp states the bytes)
  // Where several stations write one ledger each has a chain of its own, named for it; `link` counts its entries
  // from 1 without gaps. In the chain without a name it is 0 as long as the sequence says the same.
  std::string chain{};
  std::int64_t link = 0;
};

}  // namespace loadlight::core
