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

TEST_CASE("Every profile has its own code and a version") {
  std::set<std::string_view> codes;
  for (const Profile& profile : all_profiles()) {
    REQUIRE(codes.insert(profile.code).second);
    REQUIRE(profile.version >= 1);
    REQUIRE(find_profile(profile.code) == &profile);
  }
  REQUIRE(find_profile("") == nullptr);
  REQUIRE(find_profile("UK") == nullptr);
}

TEST_CASE("Every value of every profile is a row with its source", "[R63]") {
  const auto names = profile_value_names();
  for (const Profile& profile : all_profiles()) {
    for (const std::string_view name : names) {
      CAPTURE(profile.code, name);
      int rows = 0;
      for (const ProfileValue& row : all_profile_values()) {
        if (row.profile != profile.code || row.name != name) continue;
        ++rows;
        CHECK_FALSE(row.source.empty());
        CHECK(value_of(profile, name) == row.value);
      }
      REQUIRE(rows == 1);
    }
  }
  REQUIRE(all_profile_values().size() == names.size() * all_profiles().size());
}

TEST_CASE("A value that a name cannot take changes nothing") {
  Profile profile = *find_profile("us-cdc-2003");
  for (const auto& [name, value] :
       {std::pair{"biological", "fortnightly"}, std::pair{"biological", ""},
        std::pair{"wrapped-cap-months", "0"}, std::pair{"wrapped-cap-months", "-1"},
        std::pair{"wrapped-cap-months", "12 "}, std::pair{"steam-kelvin", "nan"},
        std::pair{"steam-kelvin", "5.1"}, std::pair{"tested-load-waits", "maybe"},
        std::pair{"idle-lock-minutes", "0"}, std::pair{"idle-lock-minutes", "61"},
        std::pair{"idle-lock-minutes", "none"}, std::pair{"release-by", "nobody"},
        std::pair{"local-copy-minutes", "-1"}, std::pair{"local-copy-minutes", "241"},
        std::pair{"local-copy-minutes", "none"}, std::pair{"no-such-name", "yes"}}) {
    CAPTURE(name, value);
    REQUIRE_FALSE(set_value(profile, name, value));
  }
  for (const std::string_view name : profile_value_names()) {
    REQUIRE(value_of(profile, name) == value_of(*find_profile("us-cdc-2003"), name));
  }
}

TEST_CASE("The office's own settings take the place of the profile's and are named with it", "[R63]") {
  const OfficeSetting settings[] = {{"biological", "daily", "we agreed so", "AB", {}},
                                    {"nothing-like-it", "1", "", "AB", {}}};
  const Profile profile = with_settings(*find_profile("uk"), settings);
  REQUIRE(profile.biological == Frequency::Daily);
  REQUIRE(profile.own == std::vector<std::string>{"biological"});
  REQUIRE(profile.text() == "uk " + std::to_string(profile.version) + ", own: biological");
  REQUIRE(find_profile("uk")->biological == Frequency::Off);
}

// MMWR 52(RR-17) 2003 VI.F.6, as quoted: at least weekly. PIDAC 2013, as listed: each day used, for each
// type of cycle. HTM 01-05, from memory: not part of routine testing.
TEST_CASE("How often a biological indicator is asked is the profile's to say", "[R24]") {
  REQUIRE(find_profile("us-cdc-2003")->biological == Frequency::Weekly);
  REQUIRE(find_profile("us-cdc-2008")->biological == Frequency::Weekly);
  REQUIRE(find_profile("ontario")->biological == Frequency::Daily);
  REQUIRE(find_profile("ontario")->chains == BiologicalChains::PerProgram);
  REQUIRE(find_profile("uk")->biological == Frequency::Off);
}

// MMWR 2003 and CDC 2008 Table 12 differ: contradictions C1 and C2 of the published procedures.
TEST_CASE("Each profile names the procedure that its source publishes", "[R45]") {
  REQUIRE(find_profile("us-cdc-2003")->procedure == Procedure::Dental2003);
  REQUIRE(find_profile("us-cdc-2008")->procedure == Procedure::Facility2008);
  for (const char* profile : {"ontario", "uk", "office"}) {
    REQUIRE(find_profile(profile)->procedure == Procedure::Conservative);
  }
}

// Canadian Dental Association Essentials 2020 issue 4 p. 28: type 5 or 6 may release a load without implants.
TEST_CASE("Only Ontario's profile lets an indicator release a load before its biological result", "[R26]") {
  for (const Profile& profile : all_profiles()) {
    const bool ontario = profile.code == "ontario";
    CHECK((profile.early_release == EarlyRelease::WithoutImplant) == ontario);
    CHECK(profile.tested_load_waits == ontario);
  }
}

// 16 CCR and others differ by jurisdiction: Joint Commission as commonly cited 3 years; HTM 01-05 (2009) 4.3
// at least 2 years; RCDSO/CDHO 10 years, from memory.
TEST_CASE("How long records are kept is the profile's to say", "[R61]") {
  REQUIRE_FALSE(find_profile("us-cdc-2003")->retention_months);
  REQUIRE(find_profile("us-cdc-2008")->retention_months == 36);
  REQUIRE(find_profile("uk")->retention_months == 24);
  REQUIRE(find_profile("ontario")->retention_months == 120);
}

// No source was read that asks for a rank; the careful profile asks one for what overrides a missing result.
TEST_CASE("Who may release is anyone until an office or the careful profile says otherwise") {
  for (const Profile& profile : all_profiles()) {
    CAPTURE(profile.code);
    CHECK(profile.release_by == Decider::Anyone);
    CHECK((profile.emergency_by == Decider::Lead) == (profile.code == "office"));
  }
  CHECK(Profile{}.release_by == Decider::Lead);  // a profile that says nothing lets nobody do more
  CHECK(Profile{}.emergency_by == Decider::Lead);
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
