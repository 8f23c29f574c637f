#include "loadlight/core/due.h"

#include <algorithm>
#include <tuple>

#include "loadlight/core/biological.h"

namespace loadlight::core {
namespace {

constexpr std::string_view kNewPlace =
    "Bowie-Dick: CDC 2008 as quoted, an indicator maker; biological: from memory";
constexpr std::string_view kRepair =
    "Bowie-Dick: CDC 2008 as quoted, an indicator maker; biological: Danish recommendations, after any "
    "repair";
constexpr ServiceRule kServiceRules[] = {
    {ServiceKind::Installed, true, true, kNewPlace}, {ServiceKind::Maintenance, false, false, ""},
    {ServiceKind::Repair, true, true, kRepair},      {ServiceKind::Moved, true, true, kNewPlace},
    {ServiceKind::OutOfService, false, false, ""},   {ServiceKind::Returned, false, false, ""},
};

// Collects the items that fall into the window.
class List final {
 public:
  explicit List(const DueWindow& window) : window_(window) {}

  void add(DueKind kind, std::string subject, std::optional<CivilDate> when) {
    if (!when || window_.today.days_until(*when) > std::max(window_.near_days, 0)) return;
    items_.push_back({kind, std::move(subject), *when, *when < window_.today});
  }
  std::vector<DueItem> take() { return std::move(items_); }

 private:
  const DueWindow& window_;
  std::vector<DueItem> items_;
};

// Keeps the later or the earlier of two days, whichever is known.
void keep(std::optional<CivilDate>& kept, std::optional<CivilDate> other, bool later) {
  if (other && (!kept || (later ? *other > *kept : *other < *kept))) kept = other;
}

std::vector<TestRhythm> chained(const std::vector<TestRhythm>& rhythms, BiologicalChains chains) {
  if (rhythms.empty()) return {TestRhythm{}};
  if (chains == BiologicalChains::PerProgram) return rhythms;
  TestRhythm pooled;
  bool uses_known = true;
  for (const TestRhythm& rhythm : rhythms) {
    uses_known = uses_known && rhythm.last_used;
    keep(pooled.first_used, rhythm.first_used, false);
    keep(pooled.last_used, rhythm.last_used, true);
    keep(pooled.last_run, rhythm.last_run, true);
  }
  if (!uses_known) pooled.last_used.reset();
  return {pooled};
}

std::string subject_of(const std::string& sterilizer, const TestRhythm& rhythm) {
  return rhythm.program.empty() ? sterilizer : sterilizer + " " + rhythm.program;
}

void add_routine_tests(const SterilizerDue& s, const Profile& profile, CivilDate today, List& list) {
  for (const TestRhythm& rhythm : chained(s.biological, profile.chains)) {
    list.add(DueKind::BiologicalRun, subject_of(s.code, rhythm),
             next_test_due(profile.biological, rhythm, today));
  }
  if (s.removal != AirRemoval::Dynamic) return;
  list.add(DueKind::AirRemovalTest, s.code, next_test_due(profile.air_removal_test, s.air_removal, today));
  list.add(DueKind::LeakTest, s.code, next_test_due(profile.leak_test, s.leak, today));
}

bool asks_a_retest(const ServiceDemand& demand, AirRemoval removal, const Profile& profile) {
  const auto rule = std::ranges::find(kServiceRules, demand.kind, &ServiceRule::kind);
  if (rule == std::end(kServiceRules)) return true;
  const bool biological = rule->biological && profile.biological != Frequency::Off;
  const bool air_removal = rule->air_removal && removal == AirRemoval::Dynamic;
  return (biological && !demand.negative_biological_followed) ||
         (air_removal && !demand.air_removal_test_followed);
}

}  // namespace

std::optional<CivilDate> next_test_due(Frequency frequency, const TestRhythm& rhythm, CivilDate today) {
  const CivilDate first_used = rhythm.first_used.value_or(today);
  const auto due = next_biological_due(frequency, rhythm.last_run, first_used);
  if (!due || !rhythm.last_run) return due;
  const bool unused_since = rhythm.last_used && *rhythm.last_used <= *rhythm.last_run;
  if (frequency != Frequency::Daily) return unused_since ? std::max(*due, today) : *due;
  if (*rhythm.last_run >= today) return std::nullopt;
  return unused_since ? today : std::min(today, rhythm.last_used.value_or(*due));
}

std::span<const ServiceRule> all_service_rules() {
  return kServiceRules;
}

std::vector<DueItem> due_of(const SterilizerDue& s, const Profile& profile, const DueWindow& window) {
  List list(window);
  for (const OpenResult& open : s.open_results) list.add(DueKind::BiologicalResult, open.load, open.due);
  if (s.retired) return list.take();
  list.add(DueKind::Service, s.code, s.next_service);
  if (s.demand && asks_a_retest(*s.demand, s.removal, profile)) {
    list.add(DueKind::RetestAfterService, s.code, s.demand->on);
  }
  if (s.in_service) add_routine_tests(s, profile, window.today, list);
  return list.take();
}

std::vector<DueItem> due_of(const LoadDue& load, const DueWindow& window) {
  List list(window);
  const CivilDate result_due = load.result_due.value_or(load.process_date);
  if (load.state == LoadState::Finished) list.add(DueKind::LoadToDecide, load.load, load.process_date);
  if (load.state == LoadState::Quarantined) list.add(DueKind::Quarantine, load.load, result_due);
  if (load.state == LoadState::Released && load.released_as_emergency && !load.biological_known) {
    list.add(DueKind::EmergencyReleaseResult, load.load, result_due);
  }
  return list.take();
}

std::vector<DueItem> due_of(const Consumable& consumable, const DueWindow& window) {
  List list(window);
  const bool retired = consumable.retired_on && *consumable.retired_on <= window.today;
  if (!retired) list.add(DueKind::ConsumableExpiry, consumable.lot, consumable.expires);
  return list.take();
}

std::vector<DueItem> due_of(const PackageDue& package, const DueWindow& window) {
  List list(window);
  list.add(DueKind::PackageExpiry, package.package, package.last_day);
  return list.take();
}

std::vector<DueItem> due_of(const IncidentDue& incident, const DueWindow& window) {
  List list(window);
  const std::string number = std::to_string(incident.number);
  const auto is_due = [](const StepStatus& status) { return status.state == StepState::Due; };
  for (const StepStatus& status : incident.steps) {
    if (!is_due(status)) continue;
    list.add(DueKind::IncidentStep, number + " " + std::string(status.code), incident.opened_on);
  }
  if (std::ranges::none_of(incident.steps, is_due)) {
    list.add(DueKind::IncidentStep, number, incident.opened_on);
  }
  return list.take();
}

std::vector<DueItem> due_of(const ProgramDue& program, const DueWindow& window) {
  List list(window);
  list.add(DueKind::ProgramAcceptance, program.program, program.entered_on);
  return list.take();
}

std::vector<DueItem> sorted(std::vector<DueItem> items) {
  std::ranges::sort(items, [](const DueItem& a, const DueItem& b) {
    return std::tie(a.when, a.kind, a.subject) < std::tie(b.when, b.kind, b.subject);
  });
  return items;
}

}  // namespace loadlight::core
