#include <catch2/catch.hpp>

#include <algorithm>
#include <iostream>
#include <random>
#include <set>

#include "core/incident_case.h"

// What holds of every sequence of facts, over random ones with fixed seeds: sensible ones, and some with
// steps, findings and retests that no one would record.

namespace loadlight::core {
namespace {

using Standing = BiologicalStanding;

constexpr int kIncidents = 40000;

class RandomIncidents final {
 public:
  explicit RandomIncidents(unsigned seed) : random_(seed) {}

  int upto(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

  // Good findings and negatives prevail, so that many sterilizers may return.
  IncidentFacts incident() {
    IncidentFacts facts;
    facts.procedure = Vocabulary<Procedure>::kTerms[upto(3)].value;
    facts.cause = upto(20) == 0 ? IncidentCause::InternalIndicator : IncidentCause::BiologicalPositive;
    facts.narrowed = upto(4) == 0;
    const auto rows = incident_steps_of(step_list(facts.cause, facts.procedure));
    for (const IncidentStepRow& row : rows) {
      if (upto(12) > 0) add_step(facts, row.code);
      if (upto(5) == 0) add_retest(facts);
    }
    for (int n = upto(6); n > 0; --n) add_step(facts, any_step());
    for (int n = 3 + upto(4); n > 0; --n) add_retest(facts);
    return facts;
  }

  void add_step(IncidentFacts& facts, std::string_view code) {
    const auto findings = findings_of(code);
    if (findings.empty()) return;
    const bool good = upto(6) > 0;
    const std::size_t pick = good ? 0 : static_cast<std::size_t>(upto(static_cast<int>(findings.size())));
    facts.done.push_back({std::string(code), upto(80) == 0 ? "?" : std::string(findings[pick].code)});
  }

  void add_retest(IncidentFacts& facts) {
    constexpr Standing kOther[] = {Standing::Positive, Standing::Invalid, Standing::Lost};
    Retest retest;
    retest.run = 100 + (upto(15) == 0 ? upto(20) : static_cast<int>(facts.retests.size()) * 2);
    retest.standing = upto(8) > 0 ? Standing::Negative : kOther[upto(3)];
    if (upto(60) == 0) retest.standing.reset();
    retest.mechanical_and_chemical_fine = upto(15) > 0;
    retest.same_program = upto(15) > 0;
    retest.empty_chamber = upto(8) > 0;
    const int done = static_cast<int>(facts.done.size());
    retest.after_steps = upto(20) == 0 ? upto(done + 1) : done;
    facts.retests.push_back(retest);
  }

  std::string_view any_step() {
    const auto rows = all_incident_steps();
    return rows[static_cast<std::size_t>(upto(static_cast<int>(rows.size())))].code;
  }

 private:
  std::mt19937 random_;
};

const Retest& newest(const IncidentFacts& facts) {
  return *std::ranges::max_element(facts.retests, {}, &Retest::run);
}

bool any_positive(const IncidentFacts& facts) {
  return std::ranges::any_of(facts.retests, [](const Retest& r) { return r.standing == Standing::Positive; });
}

bool was_done(const IncidentFacts& facts, std::string_view step) {
  return std::ranges::any_of(facts.done, [&](const StepDone& d) { return d.step == step; });
}

// The runs from the end on that are in order, up to the first that is not: the row that counts can only be
// among them.
std::set<int> unbroken_runs(const IncidentFacts& facts) {
  std::set<int> good;
  std::set<int> bad = {0};
  for (const Retest& r : facts.retests) {
    const bool fine = r.standing == Standing::Negative && r.mechanical_and_chemical_fine;
    (fine ? good : bad).insert(r.run);
  }
  good.erase(good.begin(), good.upper_bound(*bad.rbegin()));
  return good;
}

// Of an adverse change: every obstacle that stood still stands, and asks no less.
bool stands(const Obstacle& before, const std::vector<Obstacle>& after) {
  return std::ranges::any_of(after, [&](const Obstacle& o) {
    if (o.kind != before.kind) return false;
    return o.kind == ObstacleKind::NegativesMissing ? o.count >= before.count : o == before;
  });
}

void require_no_better(const IncidentFacts& before, const IncidentFacts& after) {
  REQUIRE(recall_reach(after) >= recall_reach(before));
  const auto left = obstacles_to_return(after);
  for (const Obstacle& obstacle : obstacles_to_return(before)) {
    CAPTURE(to_text(obstacle.kind), obstacle.step, obstacle.count);
    REQUIRE(stands(obstacle, left));
  }
  for (bool gone_or_back : {false, true}) {
    if (obstacles_to_close(before, 0, gone_or_back).empty()) continue;
    const auto open = obstacles_to_close(after, 0, gone_or_back);
    // Calling everything back is a way to the end of its own, with its own step.
    REQUIRE((!open.empty() || was_done(after, "recall-everything")));
  }
}

bool entails_more(const StepFinding& a, const StepFinding& b) {
  const auto entailed = [](const StepFinding& f) {
    return f.recalls_everything + f.calls_for_repair + f.asks_new_retest;
  };
  return a.recalls_everything >= b.recalls_everything && a.calls_for_repair >= b.calls_for_repair &&
         a.asks_new_retest >= b.asks_new_retest && entailed(a) > entailed(b);
}

Retest adverse(const IncidentFacts& facts, std::optional<Standing> standing) {
  const int run = facts.retests.empty() ? 100 : newest(facts).run + 1;
  return {run, standing, true, true, true, static_cast<int>(facts.done.size())};
}

}  // namespace

TEST_CASE("No sequence of facts lets a sterilizer return with a positive as its newest retest", "[R49]") {
  RandomIncidents random(49);
  int returned = 0;
  for (int n = 0; n < kIncidents; ++n) {
    IncidentFacts facts = random.incident();
    if (facts.cause == IncidentCause::InternalIndicator) continue;
    INFO("incident " << n);
    if (newest(facts).standing != Standing::Negative) REQUIRE_FALSE(may_return(facts));
    returned += may_return(facts);
    facts.retests.push_back(adverse(facts, Standing::Positive));
    REQUIRE_FALSE(may_return(facts));
  }
  std::cout << "incidents whose sterilizer may return: " << returned << " of " << kIncidents << "\n";
  REQUIRE(returned > kIncidents / 20);
}

TEST_CASE(
    "Whoever returns has the negatives that the procedure asks, unbroken, and the repair after a growth",
    "[R49]") {
  RandomIncidents random(4949);
  for (int n = 0; n < kIncidents; ++n) {
    const IncidentFacts facts = random.incident();
    if (facts.cause == IncidentCause::InternalIndicator || !may_return(facts)) continue;
    INFO("incident " << n);
    const bool one_is_enough = facts.procedure == Procedure::Dental2003 && !any_positive(facts);
    REQUIRE(unbroken_runs(facts).size() >= (one_is_enough ? 1u : 3u));
    REQUIRE(was_done(facts, "out-of-service"));
    if (any_positive(facts) || facts.procedure == Procedure::Conservative) {
      REQUIRE(was_done(facts, "inspect"));
      REQUIRE(was_done(facts, "repair"));
    }
    if (any_positive(facts)) REQUIRE(recall_reach(facts) == RecallReach::Everything);
  }
}

TEST_CASE("One more retest that is not negative never shortens the way back nor lowers the reach",
          "[R48][R49]") {
  RandomIncidents random(4848);
  for (int n = 0; n < kIncidents / 4; ++n) {
    const IncidentFacts facts = random.incident();
    for (std::optional<Standing> standing :
         {std::optional{Standing::Positive}, std::optional{Standing::Invalid}, std::optional{Standing::Lost},
          std::optional<Standing>{}}) {
      IncidentFacts worse = facts;
      Retest retest = adverse(facts, standing);
      if (random.upto(2) == 0) retest.run = 90 + random.upto(40);  // its result comes late
      if (random.upto(2) == 0) retest.after_steps = random.upto(static_cast<int>(facts.done.size()) + 1);
      worse.retests.push_back(retest);
      INFO("incident " << n);
      require_no_better(facts, worse);
    }
  }
}

TEST_CASE("A worse finding in place of a better one never shortens the way back nor lowers the reach",
          "[R48][R49]") {
  RandomIncidents random(1749);
  for (int n = 0; n < kIncidents / 4; ++n) {
    const IncidentFacts facts = random.incident();
    for (std::size_t at = 0; at < facts.done.size(); ++at) {
      for (const StepFinding& finding : findings_of(facts.done[at].step)) {
        if (!is_finding_of(finding.step, facts.done[at].finding)) continue;
        if (!entails_more(finding, effect_of(finding.step, facts.done[at].finding))) continue;
        IncidentFacts worse = facts;
        worse.done[at].finding = std::string(finding.code);
        INFO("incident " << n << ", step " << at << " " << finding.step << " " << finding.code);
        require_no_better(facts, worse);
      }
    }
  }
}

TEST_CASE("A defect found once more never shortens the way back nor lowers the reach", "[R48][R49]") {
  RandomIncidents random(9949);
  for (int n = 0; n < kIncidents / 4; ++n) {
    const IncidentFacts facts = random.incident();
    for (const StepStatus& status : steps(facts)) {
      if (status.state != StepState::Done || status.kind == StepKind::Retest) continue;
      for (const StepFinding& finding : findings_of(status.code)) {
        if (!finding.calls_for_repair && !finding.asks_new_retest) continue;
        IncidentFacts worse = facts;
        worse.done.push_back({std::string(finding.step), std::string(finding.code)});
        INFO("incident " << n << ", " << finding.step << " " << finding.code);
        require_no_better(facts, worse);
      }
    }
  }
}

TEST_CASE("No further step lowers the reach", "[R48]") {
  RandomIncidents random(4800);
  for (int n = 0; n < kIncidents; ++n) {
    IncidentFacts facts = random.incident();
    const RecallReach before = recall_reach(facts);
    random.add_step(facts, random.any_step());
    REQUIRE(recall_reach(facts) >= before);
  }
}

TEST_CASE("Every step of every incident has a state, and what waits cannot be recorded", "[R45]") {
  RandomIncidents random(45);
  for (int n = 0; n < kIncidents / 4; ++n) {
    const IncidentFacts facts = random.incident();
    const auto all = steps(facts);
    REQUIRE(all.size() == incident_steps_of(step_list(facts.cause, facts.procedure)).size());
    for (const StepStatus& status : all) {
      CAPTURE(n, status.code);
      if (status.kind == StepKind::Retest) REQUIRE_FALSE(may_be_done(facts, status.code));
      if (status.state == StepState::Waits) REQUIRE_FALSE(may_be_done(facts, status.code));
      if (status.state == StepState::Due && status.kind != StepKind::Retest) {
        REQUIRE(may_be_done(facts, status.code));
      }
    }
  }
}

}  // namespace loadlight::core
