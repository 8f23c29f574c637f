#include "loadlight/core/suspect_range.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <vector>

namespace loadlight::core {
namespace {

using Standing = BiologicalStanding;
using Chains = BiologicalChains;
using Results = std::vector<ChainResult>;

ChainResult at(int run, Standing standing, std::string program = "A") {
  return {run, std::move(program), standing};
}
ChainResult negative(int run, std::string program = "A") {
  return at(run, Standing::Negative, std::move(program));
}
ChainResult positive(int run, std::string program = "A") {
  return at(run, Standing::Positive, std::move(program));
}

SuspectRange pooled(const Results& results, int positive_run, int newest) {
  return suspect_range(results, positive_run, "A", newest, Chains::Pooled);
}

bool holds(const SuspectRange& range, int run, const std::string& program) {
  return range.first_run <= run && run <= range.last_run && (!range.program || *range.program == program);
}

// The guideline's wording, asked of one load at a time. "All items from suspect loads dating back to the
// last negative" (MMWR 52(RR-17) 2003; CDC 2008 Table 12: "since the last acceptable"), forward "to the next
// satisfactory" one or until the sterilizer was removed from service.
struct History final {
  std::vector<std::string> programs;  // of the runs from 1 on, to the newest before the removal
  Results results;
  int positive_run = 1;
  bool per_program = false;
};

bool is_acceptable(const History& h, int run) {
  bool any = false;
  for (const ChainResult& r : h.results) {
    if (r.run != run) continue;
    if (r.standing != Standing::Negative) return false;
    if (h.per_program && r.program != h.programs[static_cast<std::size_t>(h.positive_run - 1)]) return false;
    any = true;
  }
  return any;
}

bool is_suspect(const History& h, int run) {
  const auto program_of = [&](int r) { return h.programs[static_cast<std::size_t>(r - 1)]; };
  if (h.per_program && program_of(run) != program_of(h.positive_run)) return false;
  if (run == h.positive_run) return true;
  // Walk from the load to the positive one: an acceptable test on the way, its own included, clears it.
  const int step = run < h.positive_run ? 1 : -1;
  for (int r = run; r != h.positive_run; r += step) {
    if (is_acceptable(h, r)) return false;
  }
  return true;
}

History random_history(std::mt19937& random) {
  const auto upto = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  const char* names[] = {"A", "B", "C"};
  const Standing standings[] = {Standing::Negative, Standing::Negative, Standing::Negative,
                                Standing::Positive, Standing::Invalid,  Standing::Lost};
  History h;
  const int runs = 1 + upto(40);
  const int kinds = 1 + upto(3);
  for (int run = 1; run <= runs; ++run) h.programs.emplace_back(names[upto(kinds)]);
  h.positive_run = 1 + upto(runs);
  h.per_program = upto(2) == 1;
  for (int n = upto(20); n > 0; --n) {
    const int run = 1 + upto(runs);
    h.results.push_back(at(run, standings[upto(6)], h.programs[static_cast<std::size_t>(run - 1)]));
  }
  h.results.push_back(positive(h.positive_run, h.programs[static_cast<std::size_t>(h.positive_run - 1)]));
  std::shuffle(h.results.begin(), h.results.end(), random);
  return h;
}

SuspectRange range_of(const History& h) {
  return suspect_range(h.results, h.positive_run, h.programs[static_cast<std::size_t>(h.positive_run - 1)],
                       static_cast<int>(h.programs.size()),
                       h.per_program ? Chains::PerProgram : Chains::Pooled);
}

}  // namespace

TEST_CASE("The range holds the loads that the guideline's wording names, in ten thousand histories",
          "[R46]") {
  std::mt19937 random(20261125);
  int suspects = 0;
  for (int n = 0; n < 10000; ++n) {
    const History h = random_history(random);
    const SuspectRange range = range_of(h);
    for (int run = 1; run <= static_cast<int>(h.programs.size()); ++run) {
      INFO("history " << n << ", positive run " << h.positive_run << ", run " << run);
      const bool expected = is_suspect(h, run);
      suspects += expected;
      REQUIRE(holds(range, run, h.programs[static_cast<std::size_t>(run - 1)]) == expected);
    }
  }
  REQUIRE(suspects > 10000);
}

// MMWR 52(RR-17) 2003, positive spore test: records reviewed, and loads recalled, back to the last negative.
// Weekly tests; the one of run 41 grew, read the same day, so that the sterilizer stopped there.
TEST_CASE("CDC 2003: after the last negative, up to the positive load, the accepted load left out", "[R46]") {
  const Results results = {negative(11), negative(26), positive(41)};
  REQUIRE(pooled(results, 41, 41) == SuspectRange{27, 41, std::nullopt});
}

// CDC 2008 Table 12: everything processed since the last acceptable (negative) indicator. A test without
// growth of its control (run 30) and one lost in the post (run 35) are not acceptable ones.
TEST_CASE("CDC 2008: since the last acceptable indicator, over an invalid and a lost one", "[R46]") {
  const Results results = {negative(22), at(30, Standing::Invalid), at(35, Standing::Lost), positive(41)};
  REQUIRE(pooled(results, 41, 44) == SuspectRange{23, 44, std::nullopt});
}

// MMWR 52(RR-17) 2003, the conservative option: from the last negative to the next satisfactory one.
TEST_CASE("The conservative option: on until the next satisfactory indicator, that load left out", "[R46]") {
  const Results results = {negative(26), positive(41), negative(48), negative(60)};
  REQUIRE(pooled(results, 41, 70) == SuspectRange{27, 47, std::nullopt});
}

// Fixed by hand: run 100 carried a mailed-in indicator on Monday; its growth was reported on Friday, four
// days and thirty loads later, when run 130 was the newest. Nothing negative was run in between.
TEST_CASE("A result that comes four days and thirty loads late holds those thirty loads too", "[R46][R51]") {
  const Results results = {negative(86), positive(100)};
  const SuspectRange range = pooled(results, 100, 130);
  REQUIRE(range == SuspectRange{87, 130, std::nullopt});
  REQUIRE(range.last_run - 100 == 30);
}

TEST_CASE("A negative that was run later but reported sooner ends the range before it", "[R46][R51]") {
  const Results reported_in_this_order = {negative(115), negative(86), positive(100)};
  REQUIRE(pooled(reported_in_this_order, 100, 130) == SuspectRange{87, 114, std::nullopt});
}

TEST_CASE("Without an earlier negative the range goes back to the first load on record", "[R47]") {
  REQUIRE(pooled({positive(9)}, 9, 12) == SuspectRange{1, 12, std::nullopt});
  REQUIRE(pooled({at(3, Standing::Invalid), positive(9)}, 9, 12) == SuspectRange{1, 12, std::nullopt});
  REQUIRE(pooled({}, 1, 1) == SuspectRange{1, 1, std::nullopt});
}

// PIDAC 2013 as listed: each cycle type is tested for itself.
TEST_CASE("Where each program has its own chain another program's results bound nothing", "[R46]") {
  const Results results = {negative(5, "A"), negative(8, "B"), positive(10, "A"), negative(12, "B"),
                           negative(15, "A")};
  REQUIRE(suspect_range(results, 10, "A", 20, Chains::PerProgram) == SuspectRange{6, 14, "A"});
  REQUIRE(suspect_range(results, 10, "A", 20, Chains::Pooled) == SuspectRange{9, 11, std::nullopt});
}

TEST_CASE("Beside any other result of its load a negative bounds nothing, in either order", "[R46]") {
  for (Standing other : {Standing::Positive, Standing::Invalid, Standing::Lost}) {
    REQUIRE(pooled({negative(4), negative(7), at(7, other), positive(10)}, 10, 12).first_run == 5);
    REQUIRE(pooled({negative(4), at(7, other), negative(7), positive(10)}, 10, 12).first_run == 5);
    REQUIRE(pooled({positive(10), at(11, other), negative(11), negative(12)}, 10, 13).last_run == 11);
  }
  REQUIRE(pooled({negative(4), negative(10), positive(10)}, 10, 12) == SuspectRange{5, 12, std::nullopt});
  REQUIRE(pooled({negative(10)}, 10, 12) == SuspectRange{1, 12, std::nullopt});
}

TEST_CASE("The removal from service ends the range where no negative was run before it", "[R46]") {
  REQUIRE(pooled({positive(10), negative(14)}, 10, 12) == SuspectRange{1, 12, std::nullopt});
  REQUIRE(pooled({positive(10), negative(13)}, 10, 12) == SuspectRange{1, 12, std::nullopt});
  REQUIRE(pooled({positive(10), negative(11)}, 10, 12) == SuspectRange{1, 10, std::nullopt});
}

TEST_CASE("What is not known never makes the range narrower") {
  const Results results = {negative(5), negative(15)};
  REQUIRE(suspect_range(results, 0, "A", 20, Chains::Pooled) == SuspectRange{1, 20, std::nullopt});
  REQUIRE(suspect_range(results, -3, "A", 0, Chains::Pooled) ==
          SuspectRange{1, kLastOfAllRuns, std::nullopt});
  REQUIRE(suspect_range(results, 10, "", 20, Chains::PerProgram) == SuspectRange{1, 20, std::nullopt});
  REQUIRE(suspect_range(results, 10, "A", 0, Chains::Pooled) == SuspectRange{6, 14, std::nullopt});
  REQUIRE(suspect_range({}, 10, "A", 9, Chains::Pooled) == SuspectRange{1, kLastOfAllRuns, std::nullopt});
  REQUIRE(suspect_range(Results{negative(-4), negative(0)}, 10, "A", 10, Chains::Pooled).first_run == 1);
}

TEST_CASE("Any further result that is not negative never narrows a range", "[R46]") {
  std::mt19937 random(4711);
  for (int n = 0; n < 2000; ++n) {
    History h = random_history(random);
    const SuspectRange before = range_of(h);
    const int run = 1 + static_cast<int>(random() % h.programs.size());
    for (Standing standing : {Standing::Positive, Standing::Invalid, Standing::Lost}) {
      h.results.push_back(at(run, standing, h.programs[static_cast<std::size_t>(run - 1)]));
      const SuspectRange after = range_of(h);
      REQUIRE(after.first_run <= before.first_run);
      REQUIRE(after.last_run >= before.last_run);
      h.results.pop_back();
    }
  }
}

}  // namespace loadlight::core
