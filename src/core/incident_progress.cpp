#include "loadlight/core/incident_progress.h"

#include <algorithm>
#include <limits>

namespace loadlight::core {
namespace {

using Standing = BiologicalStanding;

constexpr int kNever = std::numeric_limits<int>::max();

bool grew(const Retest& retest) {
  return retest.standing == Standing::Positive;
}

// A negative in order comes before the other results of its run, so that the worst has the last word.
bool is_in_order(const Retest& retest) {
  return retest.standing == Standing::Negative && retest.mechanical_and_chemical_fine;
}

bool runs_before(const Retest& a, const Retest& b) {
  return a.run != b.run ? a.run < b.run : is_in_order(a) && !is_in_order(b);
}

// Answers about one incident. Positions are indices into IncidentFacts::done.
class Progress final {
 public:
  explicit Progress(const IncidentFacts& facts)
      : facts_(facts), list_(step_list(facts.cause, facts.procedure)), rows_(incident_steps_of(list_)) {
    std::ranges::stable_sort(retests_, runs_before);
  }

  const std::vector<IncidentStepRow>& rows() const { return rows_; }
  bool is_about_the_sterilizer() const { return core::is_about_the_sterilizer(list_); }
  RecallReach reach() const;
  int missing_negatives() const;
  bool newest_grew() const;
  bool is_needed(const IncidentStepRow& row) const;
  StepStatus status(const IncidentStepRow& row) const;

 private:
  bool any_grew() const { return std::ranges::any_of(retests_, grew); }
  StepFinding effect_at(int position) const;
  template <class Predicate>
  int first_done(std::string_view step, int from, Predicate accepts) const;
  int first_done(std::string_view step, int from) const;
  bool calls_for_repair() const;
  int last_growth() const;
  int inspect_from() const;
  int inspected_at() const;
  int repaired_at() const;
  int retests_from() const;
  bool counts(const Retest& retest, const RetestRule& rule, int from) const;
  bool is_done(const IncidentStepRow& row) const;
  bool waits(const IncidentStepRow& row) const;
  std::string newest_finding(std::string_view step) const;
  int count_done() const { return static_cast<int>(facts_.done.size()); }
  const StepDone& done(int position) const { return facts_.done[static_cast<std::size_t>(position)]; }

  const IncidentFacts& facts_;
  StepList list_;
  std::vector<IncidentStepRow> rows_;
  std::vector<Retest> retests_ = facts_.retests;
};

// Steps of another list entail nothing here.
StepFinding Progress::effect_at(int position) const {
  const StepDone& entry = done(position);
  if (std::ranges::find(rows_, entry.step, &IncidentStepRow::code) == rows_.end()) return {};
  return effect_of(entry.step, entry.finding);
}

template <class Predicate>
int Progress::first_done(std::string_view step, int from, Predicate accepts) const {
  for (int at = std::max(from, 0); at < count_done(); ++at) {
    if (done(at).step == step && is_finding_of(step, done(at).finding) && accepts(at)) return at;
  }
  return kNever;
}

int Progress::first_done(std::string_view step, int from) const {
  return first_done(step, from, [](int) { return true; });
}

RecallReach Progress::reach() const {
  const ProcedureRule& rule = procedure_rule(list_);
  RecallReach reach = rule.at_once;
  if (any_grew()) reach = std::max(reach, rule.after_positive_retest);
  for (int at = 0; at < count_done(); ++at) {
    if (effect_at(at).recalls_everything) reach = RecallReach::Everything;
  }
  return reach;
}

bool Progress::calls_for_repair() const {
  if (procedure_rule(list_).repair_at_once || any_grew()) return true;
  for (int at = 0; at < count_done(); ++at) {
    if (effect_at(at).calls_for_repair) return true;
  }
  return false;
}

// How many steps were done before the last retest that grew.
int Progress::last_growth() const {
  int last = 0;
  for (const Retest& retest : retests_) {
    if (grew(retest)) last = std::max(last, retest.after_steps);
  }
  return last;
}

int Progress::inspect_from() const {
  int from = last_growth();
  for (int at = 0; at < count_done(); ++at) {
    const StepFinding effect = effect_at(at);
    if (effect.calls_for_repair && effect.asks_new_retest) from = std::max(from, at + 1);
  }
  return from;
}

int Progress::inspected_at() const {
  return first_done("inspect", inspect_from());
}

// After a defect was found, ever, only a repair made since will do.
int Progress::repaired_at() const {
  int after_defect = 0;
  for (int at = 0; at < count_done(); ++at) {
    if (done(at).step == "inspect" && effect_at(at).calls_for_repair) after_defect = at + 1;
  }
  const int repaired = first_done("repair", std::max(inspect_from(), after_defect));
  if (after_defect == 0) return repaired;
  const auto is_mended = [this](int at) { return done(at).finding == "repaired"; };
  return std::max(repaired, first_done("repair", after_defect, is_mended));
}

// Retests run before this many steps were done clear nothing; kNever: none can yet.
int Progress::retests_from() const {
  int from = 0;
  for (int at = 0; at < count_done(); ++at) {
    if (effect_at(at).asks_new_retest) from = std::max(from, at + 1);
  }
  if (!calls_for_repair()) return from;
  const int mended = std::max(inspected_at(), repaired_at());
  return mended == kNever ? kNever : std::max(from, mended + 1);
}

bool Progress::counts(const Retest& retest, const RetestRule& rule, int from) const {
  return retest.same_program && (retest.empty_chamber || !rule.empty_chamber) && retest.after_steps >= from &&
         retest.after_steps <= count_done();
}

int Progress::missing_negatives() const {
  const RetestRule& rule = retest_rule(list_, calls_for_repair());
  const int from = retests_from();
  int in_a_row = 0;
  const Retest* counted = nullptr;
  for (const Retest& retest : retests_) {
    if (!is_in_order(retest)) {
      in_a_row = 0;
    } else if (counts(retest, rule, from) && !(counted && counted->run == retest.run)) {
      ++in_a_row;
      counted = &retest;
    }
  }
  return std::max(0, rule.negatives - in_a_row);
}

// Of the retests that say anything.
bool Progress::newest_grew() const {
  for (auto retest = retests_.rbegin(); retest != retests_.rend(); ++retest) {
    if (grew(*retest) || is_in_order(*retest)) return grew(*retest);
  }
  return false;
}

bool Progress::is_needed(const IncidentStepRow& row) const {
  switch (row.need) {
    case StepNeed::Always:
      return true;
    case StepNeed::WithoutRepair:
      return !calls_for_repair();
    case StepNeed::Repair:
      return calls_for_repair();
    case StepNeed::RecallOfEverything:
      return reach() == RecallReach::Everything;
    case StepNeed::NarrowedRange:
      return facts_.narrowed;
  }
  return true;
}

bool Progress::is_done(const IncidentStepRow& row) const {
  if (row.kind == StepKind::Retest) return missing_negatives() == 0;
  if (row.code == "inspect") return inspected_at() != kNever;
  if (row.code == "repair") return repaired_at() != kNever;
  // A narrower range is confirmed in the light of every growth, not before it.
  const int from = row.need == StepNeed::NarrowedRange ? last_growth() : 0;
  return first_done(row.code, from) != kNever;
}

bool Progress::waits(const IncidentStepRow& row) const {
  return std::ranges::any_of(row.after, [&](std::string_view code) {
    const auto before = std::ranges::find(rows_, code, &IncidentStepRow::code);
    return before != rows_.end() && is_needed(*before) && !is_done(*before);
  });
}

std::string Progress::newest_finding(std::string_view step) const {
  for (int at = count_done() - 1; at >= 0; --at) {
    if (done(at).step == step) return done(at).finding;
  }
  return "";
}

StepStatus Progress::status(const IncidentStepRow& row) const {
  StepStatus status{row.code, row.kind, StepState::NotNeeded, newest_finding(row.code), 0, row.source};
  if (!is_needed(row)) return status;
  if (row.kind == StepKind::Retest) status.missing = missing_negatives();
  status.state = is_done(row) ? StepState::Done : waits(row) ? StepState::Waits : StepState::Due;
  return status;
}

bool is_missing(const StepStatus& status) {
  return status.state == StepState::Due || status.state == StepState::Waits;
}

Obstacle obstacle_of(const StepStatus& status) {
  if (status.kind != StepKind::Retest) return {ObstacleKind::StepNotDone, status.code, 0};
  return {ObstacleKind::NegativesMissing, status.code, status.missing};
}

template <class Predicate>
void add_missing_steps(const Progress& progress, Predicate asked, std::vector<Obstacle>& obstacles) {
  for (const IncidentStepRow& row : progress.rows()) {
    if (!asked(row)) continue;
    const StepStatus status = progress.status(row);
    if (is_missing(status)) obstacles.push_back(obstacle_of(status));
  }
}

}  // namespace

std::vector<StepStatus> steps(const IncidentFacts& facts) {
  const Progress progress(facts);
  std::vector<StepStatus> all;
  for (const IncidentStepRow& row : progress.rows()) all.push_back(progress.status(row));
  return all;
}

bool may_be_done(const IncidentFacts& facts, std::string_view step) {
  for (const StepStatus& status : steps(facts)) {
    if (status.code != step) continue;
    const bool is_open = status.state == StepState::Due || status.state == StepState::Done;
    return status.kind == StepKind::Recall || (status.kind != StepKind::Retest && is_open);
  }
  return false;
}

RecallReach recall_reach(const IncidentFacts& facts) {
  return Progress(facts).reach();
}

std::vector<Obstacle> obstacles_to_return(const IncidentFacts& facts) {
  const Progress progress(facts);
  std::vector<Obstacle> obstacles;
  if (!progress.is_about_the_sterilizer()) return obstacles;
  add_missing_steps(
      progress, [](const IncidentStepRow& row) { return row.serves != StepServes::Goods; }, obstacles);
  if (progress.newest_grew()) obstacles.push_back({ObstacleKind::NewestRetestPositive, "", 0});
  return obstacles;
}

std::vector<Obstacle> obstacles_to_close(const IncidentFacts& facts, int unaccounted_packages,
                                         bool gone_or_back) {
  const Progress progress(facts);
  const bool nothing_to_clear = gone_or_back && progress.reach() == RecallReach::Everything;
  std::vector<Obstacle> obstacles;
  add_missing_steps(
      progress,
      [&](const IncidentStepRow& row) { return row.serves != StepServes::Sterilizer || !nothing_to_clear; },
      obstacles);
  if (unaccounted_packages != 0) {
    obstacles.push_back({ObstacleKind::PackagesUnaccounted, "", unaccounted_packages});
  }
  if (progress.is_about_the_sterilizer() && !gone_or_back) {
    obstacles.push_back({ObstacleKind::SterilizerNotReturned, "", 0});
  }
  return obstacles;
}

}  // namespace loadlight::core
