#include "loadlight/core/profiles.h"

#include <catch2/catch.hpp>

#include <set>

namespace loadlight::core {
namespace {

const Wrapping kWrapped[] = {Wrapping::Pouch, Wrapping::DoubleWrap, Wrapping::WrappedCassette,
                             Wrapping::RigidContainer};

std::optional<CivilDate> last_day(const char* profile, Wrapping wrapping, CivilDate processed) {
  return last_day_by_profile(*find_profile(profile), wrapping, processed);
}

}  // namespace

TEST_CASE("Every profile has its own code, a version and a source") {
  std::set<std::string_view> codes;
  for (const Profile& profile : all_profiles()) {
    REQUIRE(codes.insert(profile.code).second);
    REQUIRE(profile.version >= 1);
    REQUIRE_FALSE(profile.source.empty());
    REQUIRE(find_profile(profile.code) == &profile);
  }
  REQUIRE(find_profile("") == nullptr);
  REQUIRE(find_profile("UK") == nullptr);
}

// HTM 01-05 (2013) 2.4k(i): wrapped instruments up to one year.
TEST_CASE("The UK profile keeps wrapped packages for a year, its last day included") {
  for (Wrapping wrapping : kWrapped) {
    REQUIRE(last_day("uk", wrapping, *CivilDate::from(2026, 11, 25)) == CivilDate::from(2027, 11, 25));
  }
}

TEST_CASE("A year from a leap day ends on the last day of February") {
  REQUIRE(last_day("uk", Wrapping::Pouch, *CivilDate::from(2028, 2, 29)) == CivilDate::from(2029, 2, 28));
}

// HTM 01-05 (2013) 2.4k(ii): unwrapped in the clinical area one day.
TEST_CASE("The UK profile keeps unwrapped items for a day") {
  REQUIRE(last_day("uk", Wrapping::Unwrapped, *CivilDate::from(2027, 12, 31)) == CivilDate::from(2028, 1, 1));
}

// CDC MMWR 52(RR-17) 2003 and CDC 2008: date- or event-related shelf life; no source states a cap.
TEST_CASE("The other profiles set no cap") {
  for (const char* profile : {"us-cdc-2003", "us-cdc-2008", "ontario", "office"}) {
    CAPTURE(profile);
    REQUIRE(find_profile(profile) != nullptr);
    for (const auto& term : Vocabulary<Wrapping>::kTerms) {
      REQUIRE_FALSE(last_day(profile, term.value, *CivilDate::from(2026, 11, 25)));
    }
  }
}

}  // namespace loadlight::core
