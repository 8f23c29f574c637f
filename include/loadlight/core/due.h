// What must be done now and soon, made from plain facts. A thing is late from the day after its due day.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/incident_progress.h"
#include "loadlight/core/load.h"
#include "loadlight/core/office.h"
#include "loadlight/core/upkeep.h"
#include "loadlight/core/profiles.h"

namespace loadlight::core {

// In the order in which things of one day are listed.
enum class DueKind {
  IncidentStep,
  RetestAfterService,
  AirRemovalTest,
  LeakTest,
  BiologicalResult,
  BiologicalRun,
  LoadToDecide,
  Quarantine,
  EmergencyReleaseResult,
  ProgramAcceptance,
  Service,
  ConsumableExpiry,
  PackageExpiry,
};

struct DueItem final {
  DueKind kind = DueKind::LoadToDecide;
  std::string subject;  // the code of what it is about: "S1", "S1 steam-134", "S1-204", "3 review-records"
  CivilDate when = *CivilDate::from(1900, 1, 1);
  bool overdue = false;

  friend bool operator==(const DueItem&, const DueItem&) = default;
};

// The days that a list looks at: everything late, and what is due up to `near_days` from today, both days
// included.
struct DueWindow final {
  CivilDate today;
  int near_days = 14;
};

// How one kind of routine test stands, for one program or for the whole sterilizer.
struct TestRhythm final {
  std::string program;                  // empty: the sterilizer as a whole
  std::optional<CivilDate> first_used;  // none: never
  std::optional<CivilDate> last_used;   // none: not known
  std::optional<CivilDate> last_run;    // the day on which the newest test was run; none: never
};

// The day on which the next test is due. A test of every day of use is due on the day of use: today, or the
// last day of use where it was left out. Nothing is late while the program has not been used since its last
// test: then it is due with the next use. None: not asked, or done today where it is asked daily.
std::optional<CivilDate> next_test_due(Frequency frequency, const TestRhythm& rhythm, CivilDate today);

// What an event of the service log asks before the sterilizer is trusted again.
struct ServiceRule final {
  ServiceKind kind = ServiceKind::Maintenance;
  bool biological = false;   // a negative, where the profile has biological indicators at all
  bool air_removal = false;  // a passed one, with dynamic air removal
  std::string_view source;
};
std::span<const ServiceRule> all_service_rules();

// A biological indicator whose result is not known yet.
struct OpenResult final {
  std::string load;
  CivilDate due;
};

// The newest event of the service log that asks for a test, and what followed it.
struct ServiceDemand final {
  ServiceKind kind = ServiceKind::Repair;
  CivilDate on;
  bool negative_biological_followed = false;
  bool air_removal_test_followed = false;
};

struct SterilizerDue final {
  std::string code;
  AirRemoval removal = AirRemoval::Gravity;
  bool in_service = true;
  bool retired = false;
  std::vector<TestRhythm> biological;  // one for each program used; pooled here where the profile says so
  TestRhythm air_removal;              // passed tests alone
  TestRhythm leak;                     // passed tests alone
  std::vector<OpenResult> open_results;
  std::optional<CivilDate> next_service;
  std::optional<ServiceDemand> demand;
};

// Routine tests are asked of a sterilizer in service; of a retired one only its results.
std::vector<DueItem> due_of(const SterilizerDue& sterilizer, const Profile& profile, const DueWindow& window);

struct LoadDue final {
  std::string load;
  LoadState state = LoadState::Finished;
  CivilDate process_date;
  std::optional<CivilDate> result_due;  // of its biological indicator
  bool released_as_emergency = false;
  bool biological_known = false;  // a valid result, whichever
};
std::vector<DueItem> due_of(const LoadDue& load, const DueWindow& window);

std::vector<DueItem> due_of(const Consumable& consumable, const DueWindow& window);

struct PackageDue final {
  std::string package;
  CivilDate last_day;  // by its label or its profile, included
};
std::vector<DueItem> due_of(const PackageDue& package, const DueWindow& window);

// An open incident: each step that is due; itself, where none is and yet it is not closed.
struct IncidentDue final {
  int number = 0;
  CivilDate opened_on;
  std::vector<StepStatus> steps;
};
std::vector<DueItem> due_of(const IncidentDue& incident, const DueWindow& window);

// A program with values under the table's that no lead has signed for.
struct ProgramDue final {
  std::string program;
  CivilDate entered_on;
};
std::vector<DueItem> due_of(const ProgramDue& program, const DueWindow& window);

// By day, then by kind, then by subject.
std::vector<DueItem> sorted(std::vector<DueItem> items);

template <>
struct Vocabulary<DueKind> {
  static constexpr Term<DueKind> kTerms[] = {{DueKind::IncidentStep, "incident-step"},
                                             {DueKind::RetestAfterService, "retest-after-service"},
                                             {DueKind::AirRemovalTest, "air-removal-test"},
                                             {DueKind::LeakTest, "leak-test"},
                                             {DueKind::BiologicalResult, "biological-result"},
                                             {DueKind::BiologicalRun, "biological-run"},
                                             {DueKind::LoadToDecide, "load-to-decide"},
                                             {DueKind::Quarantine, "quarantine"},
                                             {DueKind::EmergencyReleaseResult, "emergency-release-result"},
                                             {DueKind::ProgramAcceptance, "program-acceptance"},
                                             {DueKind::Service, "service"},
                                             {DueKind::ConsumableExpiry, "consumable-expiry"},
                                             {DueKind::PackageExpiry, "package-expiry"}};
};

}  // namespace loadlight::core
