#include "loadlight/core/packing_steps.h"

#include <catch2/catch.hpp>

#include <set>
#include <string>

namespace loadlight::core {
namespace {

Contents contents(bool hinged, bool not_stainless) {
  Contents what;
  what.hinged = hinged;
  what.not_stainless = not_stainless;
  return what;
}

std::set<std::string> codes(Wrapping wrapping, const Contents& what) {
  std::set<std::string> found;
  for (const PackingStep& step : packing_steps_for(wrapping, what)) found.emplace(step.code);
  return found;
}

// Written from the trade's steps: every package is cleaned, inspected and dry, gets an internal indicator
// (MMWR 52(RR-17) 2003 VI.F.3), guards for sharp tips, the smallest fitting package, and its label on film
// or tape (ST79 8.3.2 as reported by the OSAP FAQ). Hinged items open, and carbon steel protected: from
// memory.
std::set<std::string> expected(Wrapping wrapping, bool hinged, bool not_stainless) {
  std::set<std::string> steps{"clean-inspected-dry"};
  if (hinged) steps.insert("hinged-open");
  if (not_stainless) steps.insert("corrosion-inhibitor");
  if (wrapping == Wrapping::Unwrapped) return steps;
  steps.insert({"smallest-that-fits", "internal-indicator", "sharp-tips-guarded", "label-on-film-or-tape"});
  if (wrapping == Wrapping::Pouch) steps.insert("fold-on-the-line");
  if (wrapping == Wrapping::DoubleWrap) steps.insert({"two-layers-no-metal", "tape-and-corner"});
  if (wrapping == Wrapping::WrappedCassette) {
    steps.insert({"two-layers-no-metal", "tape-and-corner", "old-label-off"});
  }
  if (wrapping == Wrapping::RigidContainer) steps.insert("old-label-off");
  return steps;
}

}  // namespace

TEST_CASE("Every kind of package with every kind of contents gets exactly its steps") {
  for (const auto& term : Vocabulary<Wrapping>::kTerms) {
    for (int flags = 0; flags < 4; ++flags) {
      const bool hinged = (flags & 1) != 0;
      const bool not_stainless = (flags & 2) != 0;
      CAPTURE(term.text, hinged, not_stainless);
      REQUIRE(codes(term.value, contents(hinged, not_stainless)) ==
              expected(term.value, hinged, not_stainless));
    }
  }
}

TEST_CASE("Cleaning comes first and the label last") {
  const auto steps = packing_steps_for(Wrapping::WrappedCassette, contents(true, true));
  REQUIRE(steps.front().code == "clean-inspected-dry");
  REQUIRE(steps.back().code == "label-on-film-or-tape");
}

TEST_CASE("Only what is used again asks for its old label to be taken off") {
  for (const auto& term : Vocabulary<Wrapping>::kTerms) {
    const bool used_again = term.value == Wrapping::WrappedCassette || term.value == Wrapping::RigidContainer;
    CAPTURE(term.text);
    REQUIRE((codes(term.value, Contents{}).count("old-label-off") == 1) == used_again);
  }
}

TEST_CASE("No step has another's code, and every step is for some package") {
  std::set<std::string> all;
  for (const PackingStep& step : all_packing_steps()) REQUIRE(all.emplace(step.code).second);
  std::set<std::string> used;
  for (const auto& term : Vocabulary<Wrapping>::kTerms) used.merge(codes(term.value, contents(true, true)));
  REQUIRE(used == all);
}

}  // namespace loadlight::core
