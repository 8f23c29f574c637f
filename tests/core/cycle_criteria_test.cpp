#include "loadlight/core/cycle_criteria.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <iostream>
#include <limits>
#include <set>

#include "core/cycle_oracle.h"

namespace loadlight::core {
namespace {

constexpr int kRandomCycles = 10'000;

CycleFindings findings_of(const RandomCycle& cycle) {
  CycleReader reader{cycle.settings};
  for (const CycleSample& sample : cycle.samples) REQUIRE(reader.add(sample));
  return reader.findings();
}

bool agree(const CriterionResult& found, const ExpectedLine& expected) {
  if (found.standing != expected.standing || found.measured.has_value() != expected.measured.has_value()) {
    return false;
  }
  return !found.measured || std::abs(*found.measured - *expected.measured) < 1e-6;
}

TEST_CASE("Ten thousand random cycles are judged as the wording judges them", "[R31][R32][R35]") {
  std::mt19937 random{20261125};
  std::map<std::string, std::set<Standing>> seen;
  for (int i = 0; i < kRandomCycles; ++i) {
    const RandomCycle cycle = random_cycle(random);
    auto expected = expected_lines(cycle);
    const auto results = judge_cycle(findings_of(cycle), cycle.limits);
    REQUIRE(results.size() == expected.size());
    for (const CriterionResult& result : results) {
      INFO("cycle " << i << ", " << result.code << ": " << to_text(result.standing) << ", expected "
                    << to_text(expected[std::string{result.code}].standing));
      REQUIRE(agree(result, expected[std::string{result.code}]));
      seen[std::string{result.code}].insert(result.standing);
    }
  }
  std::cout << "cycle criteria: " << kRandomCycles << " random cycles agree\n";
  for (const auto& [code, standings] : seen) {
    INFO(code);
    CHECK(standings.count(Standing::Met) == 1);
    CHECK(standings.count(Standing::NotMet) == 1);
    CHECK(standings.count(Standing::Unknown) == 1);
  }
}

// A run at 134 C that keeps every limit by a little: a sample a second, saturated steam, then drying.
RandomCycle good_cycle() {
  RandomCycle c;
  c.settings.programmed_celsius = c.limits.set_celsius = 134;
  c.limits.exposure_minutes = 3;
  c.limits.drying_minutes = 1;
  for (int second = 0; second < 300; ++second) {
    const bool hot = second >= 10 && second <= 200;
    c.samples.push_back({1.0 * second, hot ? 135.0 : 95, hot ? 313.2 : 10.0});
  }
  return c;
}

std::string codes_standing(const RandomCycle& cycle, Standing standing) {
  std::string codes;
  for (const CriterionResult& result : judge_cycle(findings_of(cycle), cycle.limits)) {
    if (result.standing == standing) codes += (codes.empty() ? "" : " ") + std::string{result.code};
  }
  return codes;
}
std::string not_met(const RandomCycle& cycle) {
  return codes_standing(cycle, Standing::NotMet);
}

void change(RandomCycle& cycle, int from, int to, void (*how)(CycleSample&)) {
  for (int i = from; i <= to; ++i) how(cycle.samples[static_cast<std::size_t>(i)]);
}

TEST_CASE("A good cycle meets every criterion") {
  CHECK(codes_standing(good_cycle(), Standing::Met) ==
        "cycle-complete exposure lowest-temperature upper-limit fluctuation pressure-recorded "
        "saturation-superheat saturation-deficit drying sampling-gap");
}

TEST_CASE("Each criterion speaks alone when its fact alone is wrong", "[R31][R32][R35]") {
  RandomCycle c = good_cycle();
  c.limits.exposure_minutes = 3.2;
  CHECK(not_met(c) == "exposure");

  c = good_cycle();
  c.settings.programmed_celsius = 135;  // read for more than was held
  CHECK(not_met(c) == "cycle-complete exposure");

  c = good_cycle();
  c.limits.set_celsius = 134.8;  // read for less than is asked
  CHECK(not_met(c) == "lowest-temperature");
  CHECK(codes_standing(c, Standing::Unknown) == "exposure");

  c = good_cycle();
  change(c, 10, 200, [](CycleSample& s) { s = {s.seconds, 136.6, 328.0}; });
  CHECK(not_met(c) == "upper-limit");

  c = good_cycle();
  c.limits.fluctuation_kelvin = 0.2;
  change(c, 50, 60, [](CycleSample& s) { s.celsius = 135.5; });
  CHECK(not_met(c) == "fluctuation");

  c = good_cycle();
  change(c, 50, 50, [](CycleSample& s) { s.kpa_abs.reset(); });
  CHECK(not_met(c) == "pressure-recorded");
  CHECK(codes_standing(c, Standing::Unknown) == "saturation-superheat saturation-deficit");

  c = good_cycle();
  change(c, 50, 60, [](CycleSample& s) { s.kpa_abs = 290; });
  CHECK(not_met(c) == "saturation-superheat");

  c = good_cycle();
  change(c, 50, 60, [](CycleSample& s) { s.kpa_abs = 335; });
  CHECK(not_met(c) == "saturation-deficit");

  c = good_cycle();
  c.limits.drying_minutes = 2;
  CHECK(not_met(c) == "drying");

  c = good_cycle();
  c.samples.erase(c.samples.begin() + 4, c.samples.begin() + 6);
  CHECK(not_met(c) == "sampling-gap");

  c = good_cycle();
  change(c, 201, 299, [](CycleSample& s) { s.kpa_abs = 150; });
  CHECK(not_met(c) == "cycle-complete drying");
}

TEST_CASE("Nothing is met without samples") {
  for (const CriterionResult& result : judge_cycle(CycleReader{CycleSettings{}}.findings(), {134, 3, 20})) {
    INFO(result.code);
    CHECK(result.standing == Standing::Unknown);
    CHECK_FALSE(result.measured);
  }
}

TEST_CASE("Nothing is met without an exposure but what needs none") {
  RandomCycle c = good_cycle();
  change(c, 0, 299, [](CycleSample& s) { s = {s.seconds, 110, 143.0}; });
  CHECK(codes_standing(c, Standing::Met) == "pressure-recorded sampling-gap");
}

TEST_CASE("A limit that is not a number is never met") {
  RandomCycle c = good_cycle();
  constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
  c.limits = {kNone, kNone, kNone, kNone, kNone, kNone, kNone};
  CHECK(codes_standing(c, Standing::Met) == "cycle-complete pressure-recorded sampling-gap");
}

TEST_CASE("A program without drying asks for none") {
  RandomCycle c = good_cycle();
  c.limits.drying_minutes = 0;
  CHECK(codes_standing(c, Standing::NotAsked) == "drying");
  c.limits.exposure_minutes = 0;  // never a program's
  CHECK(codes_standing(c, Standing::NotAsked) == "drying");
  CHECK(codes_standing(c, Standing::Unknown) == "exposure");
}

TEST_CASE("Every line names its source and unit and how far the limit was kept") {
  const RandomCycle c = good_cycle();
  const auto results = judge_cycle(findings_of(c), c.limits);
  for (const CriterionResult& result : results) {
    INFO(result.code);
    CHECK_FALSE(result.source.empty());
    CHECK_FALSE(result.unit.empty());
    REQUIRE(result.margin);
    CHECK(*result.margin >= 0);
  }
  CHECK(results[1].code == "exposure");
  CHECK(*results[1].margin == Approx(190.0 / 60 - 3));
  CHECK(all_criteria().size() == results.size());
}

}  // namespace
}  // namespace loadlight::core
