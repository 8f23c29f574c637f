#include "loadlight/core/verdict.h"

#include <catch2/catch.hpp>

#include <algorithm>

#include <type_traits>

namespace loadlight::core {

TEST_CASE("Nobody can make a verdict by default") {
  STATIC_REQUIRE_FALSE(std::is_default_constructible_v<Verdict>);
}

TEST_CASE("A verdict against nothing holds for want of knowledge") {
  const Verdict verdict = Verdict::against({});
  REQUIRE(verdict.outcome() == Outcome::Hold);
  REQUIRE(verdict.reasons() == std::vector<Reason>{Reason::RecordDamaged});
  REQUIRE(verdict.notes().empty());
}

TEST_CASE("A verdict against any one reason weighs what that reason weighs and is never clear") {
  for (Reason reason : all_reasons()) {
    CAPTURE(to_text(reason));
    REQUIRE(Verdict::against({reason}).outcome() == weight_of(reason));
    REQUIRE(Verdict::against({reason}).outcome() != Outcome::Clear);
    REQUIRE(Verdict::against({reason}).has(reason));
  }
}

TEST_CASE("A verdict lists each reason once, worst first, whatever the order they came in") {
  std::vector<Reason> backwards = all_reasons();
  std::reverse(backwards.begin(), backwards.end());
  backwards.insert(backwards.end(), backwards.begin(), backwards.end());
  REQUIRE(Verdict::against(backwards).reasons() == all_reasons());
  REQUIRE(Verdict::against(backwards).outcome() == Outcome::DoNotUse);
}

TEST_CASE("One more reason never makes a verdict better and keeps its notes") {
  for (Reason first : all_reasons()) {
    const Verdict before = Verdict::against({first}).with(Note::NearUseBy);
    for (Reason second : all_reasons()) {
      const Verdict after = before.with(second);
      REQUIRE(after.outcome() == std::max(weight_of(first), weight_of(second)));
      REQUIRE(after.has(first));
      REQUIRE(after.has(second));
      REQUIRE(after.notes() == before.notes());
    }
  }
}

TEST_CASE("No note changes an outcome, and each is listed once") {
  for (Note note : all_notes()) {
    Judge judge;
    judge.hear(Reason::LoadFailed, Finding::No);
    const Verdict clear = judge.verdict();
    REQUIRE(clear.with(note).outcome() == Outcome::Clear);
    REQUIRE(clear.with(note).with(note).notes() == std::vector<Note>{note});
    REQUIRE(Verdict::against({Reason::LoadFailed}).with(note).outcome() == Outcome::DoNotUse);
  }
}

TEST_CASE("A judge that heard nothing holds") {
  REQUIRE(Judge{}.verdict().outcome() == Outcome::Hold);
  REQUIRE(Judge{Reason::RecordUnreachable}.verdict().outcome() == Outcome::Hold);
}

TEST_CASE("A judge clears only where every rule was heard and none spoke or missed its fact") {
  Judge judge{Reason::RecordUnreachable};
  judge.hear(Reason::LoadFailed, Finding::No);
  REQUIRE(judge.verdict().outcome() == Outcome::Clear);
  judge.hear(Reason::LoadFailed, Finding::Missing);
  REQUIRE(judge.verdict() == Verdict::against({Reason::RecordUnreachable}));
  judge.hear(Reason::LoadFailed, Finding::Yes);
  REQUIRE(judge.verdict() == Verdict::against({Reason::LoadFailed, Reason::RecordUnreachable}));
}

TEST_CASE("A finding that is none counts as a missing fact") {
  Judge judge;
  judge.hear(Reason::LoadFailed, static_cast<Finding>(99));
  REQUIRE(judge.verdict().outcome() == Outcome::Hold);
}

}  // namespace loadlight::core
