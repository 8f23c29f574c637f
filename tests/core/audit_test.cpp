#include "loadlight/core/audit.h"

#include <catch2/catch.hpp>

#include <limits>

namespace loadlight::core {
namespace {

const CivilDate kDay = *CivilDate::from(2026, 11, 25);

Package package_at(std::optional<std::string> location) {
  Package package{.id = *PackageId::parse_exact("000000000V"), .load = {"S1", 1}, .process_date = kDay};
  package.state = PackageState::Loaded;
  package.location = std::move(location);
  return package;
}

Load load_in(LoadState state) {
  Load load;
  load.name = {"S1", 1};
  load.state = state;
  return load;
}

const auto kReleased = load_in(LoadState::Released);

}  // namespace

TEST_CASE("A released package is expected where it was put away, and one never put away nowhere") {
  CHECK(expected_location(package_at("CAB2"), kReleased) == "CAB2");
  CHECK(expected_location(package_at(std::nullopt), kReleased) == std::nullopt);
}

TEST_CASE("Only a loaded package is expected anywhere") {
  for (const auto& term : Vocabulary<PackageState>::kTerms) {
    Package package = package_at("CAB2");
    package.state = term.value;
    CAPTURE(std::string{term.text});
    CHECK(expected_location(package, kReleased).has_value() == (term.value == PackageState::Loaded));
  }
}

TEST_CASE("Only a package of a released load is expected anywhere") {
  for (const auto& term : Vocabulary<LoadState>::kTerms) {
    CAPTURE(std::string{term.text});
    const bool released = term.value == LoadState::Released;
    CHECK(expected_location(package_at("CAB2"), load_in(term.value)).has_value() == released);
  }
}

TEST_CASE("A recalled package is expected nowhere though its load was released") {
  Package package = package_at("CAB2");
  package.recalled = true;
  CHECK(expected_location(package, kReleased) == std::nullopt);
}

TEST_CASE("A package is present where it is expected, misplaced elsewhere, unexpected when nowhere") {
  CHECK(status_of("CAB2", "CAB2") == AuditStatus::Present);
  CHECK(status_of("CAB2", "CAB1") == AuditStatus::Misplaced);
  CHECK(status_of("CAB2", "") == AuditStatus::Misplaced);
  CHECK(status_of(std::nullopt, "CAB2") == AuditStatus::Unexpected);
}

TEST_CASE("An identification needs both ratios, against the second best and against chance") {
  CHECK(is_certain_match(kMatchOverSecond, kMatchOverChance));
  CHECK_FALSE(is_certain_match(kMatchOverSecond - 0.01, 100));
  CHECK_FALSE(is_certain_match(100, kMatchOverChance - 0.01));
}

TEST_CASE("The only candidate still has to be told from chance") {
  constexpr double kNoOther = std::numeric_limits<double>::infinity();
  CHECK(is_certain_match(kNoOther, kMatchOverChance));
  CHECK_FALSE(is_certain_match(kNoOther, 0));
}

TEST_CASE("Ratios that are no numbers identify nothing") {
  constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
  CHECK_FALSE(is_certain_match(kNone, 100));
  CHECK_FALSE(is_certain_match(100, kNone));
}

}  // namespace loadlight::core
