#include "loadlight/core/indicator_types.h"

#include <catch2/catch.hpp>

#include <limits>
#include <set>
#include <tuple>

namespace loadlight::core {
namespace {

using P = IndicatorPlace;

IndicatorReading reading(int type, P place = P::Internal) {
  IndicatorReading r;
  r.type = type;
  r.place = place;
  r.passed = true;
  return r;
}

IndicatorReading stating(double celsius, double minutes) {
  IndicatorReading r = reading(6, P::ProcessChallenge);
  r.stated_celsius = celsius;
  r.stated_minutes = minutes;
  return r;
}

std::set<std::string_view> uses(const IndicatorType& type) {
  std::set<std::string_view> uses;
  if (type.outside_package) uses.insert("outside");
  if (type.inside_package) uses.insert("inside");
  if (type.process_challenge) uses.insert("challenge");
  if (type.air_removal) uses.insert("air-removal");
  if (type.early_release) uses.insert("early-release");
  return uses;
}

}  // namespace

// ISO 11140-1:2014 as reported (type 1 outside, 3 and 4 inside, 5 and 6 also with a process challenge
// device); ST79 2006 10.5.2.2.2 and 10.6.1. Outside, all but the air removal sheet (common practice).
TEST_CASE("In loads of goods each type stands where its row says and nowhere else", "[R22]") {
  const std::set<std::pair<int, P>> stands = {
      {1, P::External},         {3, P::External}, {4, P::External},        {5, P::External},
      {6, P::External},         {3, P::Internal}, {4, P::Internal},        {5, P::Internal},
      {5, P::ProcessChallenge}, {6, P::Internal}, {6, P::ProcessChallenge}};
  for (int type = 1; type <= 6; ++type) {
    for (const auto& place : Vocabulary<P>::kTerms) {
      CAPTURE(type, place.text);
      REQUIRE(may_stand(type, place.value, LoadPurpose::Process) == stands.contains({type, place.value}));
      REQUIRE(may_stand(type, place.value, LoadPurpose::Retest) == stands.contains({type, place.value}));
    }
  }
}

// ISO 11140-1:2014 as reported: type 2 for the daily equipment test only.
TEST_CASE("Only type 2 stands in an air-removal test, and no type in a leak test", "[R27]") {
  for (int type = 1; type <= 6; ++type) {
    for (const auto& place : Vocabulary<P>::kTerms) {
      CAPTURE(type, place.text);
      REQUIRE(may_stand(type, place.value, LoadPurpose::BowieDick) == (type == 2));
      REQUIRE_FALSE(may_stand(type, place.value, LoadPurpose::Leak));
    }
  }
}

TEST_CASE("A type that does not exist stands nowhere and speaks for no program") {
  for (int type : {-1, 0, 7, 11140}) {
    CAPTURE(type);
    REQUIRE(find_indicator_type(type) == nullptr);
    REQUIRE_FALSE(may_stand(type, P::Internal, LoadPurpose::Process));
    REQUIRE_FALSE(states_program(reading(type), 134, 4));
    REQUIRE_FALSE(
        may_release_early(reading(type, P::ProcessChallenge), 134, 4, EarlyRelease::WithoutImplant, false));
  }
}

// ISO 11140-1 4.1 as quoted: "no hierarchical significance".
TEST_CASE("The numbers rank nothing: no type does all that every other does, nor all that a lower one does") {
  for (const IndicatorType& type : all_indicator_types()) {
    int does_all_of = 0;
    for (const IndicatorType& other : all_indicator_types()) {
      const auto mine = uses(type);
      const auto its = uses(other);
      does_all_of += std::includes(mine.begin(), mine.end(), its.begin(), its.end());
    }
    CAPTURE(type.number);
    REQUIRE(does_all_of < 6);
  }
  REQUIRE(may_stand(1, P::External, LoadPurpose::Process));
  REQUIRE_FALSE(may_stand(2, P::External, LoadPurpose::Process));
}

TEST_CASE("A type 6 indicator speaks for the program that it states and for no other", "[R36]") {
  REQUIRE(states_program(stating(134, 3.5), 134, 3.5));
  REQUIRE(states_program(stating(134, 3.5), 134.04, 3.51));  // rounding of what is printed
  REQUIRE_FALSE(states_program(stating(134, 3.5), 134, 4));
  REQUIRE_FALSE(states_program(stating(134, 4), 134, 3.5));  // nor for a shorter one
  REQUIRE_FALSE(states_program(stating(134, 3.5), 132, 3.5));
  REQUIRE_FALSE(states_program(stating(134, 3.5), 134.1, 3.5));
  REQUIRE_FALSE(states_program(stating(134, 3.5), 134, 3.53));
  REQUIRE_FALSE(states_program(reading(6), 134, 3.5));
}

TEST_CASE("A type 6 indicator that states half a program, or no number, speaks for none", "[R36]") {
  IndicatorReading half = stating(134, 3.5);
  half.stated_minutes.reset();
  REQUIRE_FALSE(states_program(half, 134, 3.5));
  const double nan = std::numeric_limits<double>::quiet_NaN();
  REQUIRE_FALSE(states_program(stating(nan, 3.5), 134, 3.5));
  REQUIRE_FALSE(states_program(stating(134, 3.5), nan, 3.5));
  for (int type = 1; type <= 6; ++type) REQUIRE_FALSE(states_program(reading(type), 134, nan));
}

TEST_CASE("Types that state no program speak for every one") {
  for (int type = 1; type <= 5; ++type) REQUIRE(states_program(reading(type), 121, 30));
}

// Canadian Dental Association, Essentials 2020 issue 4 p. 28.
TEST_CASE("Only a passed type 5 or 6 in the process challenge device releases early, without implants",
          "[R26]") {
  for (int type = 1; type <= 6; ++type) {
    for (const auto& place : Vocabulary<P>::kTerms) {
      IndicatorReading r = stating(134, 3.5);
      r.type = type;
      r.place = place.value;
      const bool may = type >= 5 && place.value == P::ProcessChallenge;
      CAPTURE(type, place.text);
      REQUIRE(may_release_early(r, 134, 3.5, EarlyRelease::WithoutImplant, false) == may);
      REQUIRE_FALSE(may_release_early(r, 134, 3.5, EarlyRelease::WithoutImplant, true));
      REQUIRE_FALSE(may_release_early(r, 134, 3.5, EarlyRelease::Never, false));
      r.passed = false;
      REQUIRE_FALSE(may_release_early(r, 134, 3.5, EarlyRelease::WithoutImplant, false));
    }
  }
  REQUIRE_FALSE(may_release_early(stating(134, 4), 134, 3.5, EarlyRelease::WithoutImplant, false));
}

TEST_CASE("Of the profiles only Ontario's allows a release before the biological result", "[R26]") {
  for (const Profile& profile : all_profiles()) {
    CAPTURE(profile.code);
    REQUIRE((profile.early_release == EarlyRelease::WithoutImplant) == (profile.code == "ontario"));
  }
}

TEST_CASE("Every indicator type has one row, a code and a source") {
  std::set<std::string_view> codes;
  int number = 0;
  for (const IndicatorType& type : all_indicator_types()) {
    REQUIRE(type.number == ++number);
    REQUIRE(codes.insert(type.code).second);
    REQUIRE_FALSE(type.source.empty());
    REQUIRE(find_indicator_type(number) == &type);
  }
  REQUIRE(number == 6);
}

}  // namespace loadlight::core
