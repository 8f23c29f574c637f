#include "loadlight/system/zone.h"

#include <stdlib.h>
#include <time.h>

#include <catch2/catch.hpp>
#include <random>

using namespace loadlight;

namespace {

std::unique_ptr<port::Zone> zone_of(const std::string& name) {
  auto zone = system::open_zone(name);
  REQUIRE(zone);
  return *std::move(zone);
}

core::Instant utc(int year, unsigned month, unsigned day, int hour, int minute) {
  return std::chrono::sys_days{std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day}} +
         std::chrono::hours{hour} + std::chrono::minutes{minute};
}

// The local texts a millisecond before a transition and at it.
void check_transition(const std::string& zone, core::Instant at, const std::string& before,
                      const std::string& after) {
  const auto held = zone_of(zone);
  INFO(zone);
  CHECK(held->local_text(at - std::chrono::milliseconds{1}) == before);
  CHECK(held->local_text(at) == after);
  CHECK(held->local_date(at - std::chrono::milliseconds{1}).iso() == before.substr(0, 10));
  CHECK(held->local_date(at).iso() == after.substr(0, 10));
}

// What the C library, which reads the same database with code of its own, says.
std::string as_the_c_library_says(const std::string& zone, core::Instant t) {
  ::setenv("TZ", zone.c_str(), 1);
  ::tzset();
  const time_t seconds = std::chrono::floor<std::chrono::seconds>(t.time_since_epoch()).count();
  tm local{};
  ::localtime_r(&seconds, &local);
  ::unsetenv("TZ");
  ::tzset();
  char out[32];
  ::strftime(out, sizeof out, "%Y-%m-%d %H:%M", &local);
  return out;
}

}  // namespace

// The IANA time zone database: file northamerica, rule US (second Sunday of March, first of November, 2:00).
TEST_CASE("New York's clocks skip an hour on 2026-03-08 and repeat one on 2026-11-01") {
  check_transition("America/New_York", utc(2026, 3, 8, 7, 0), "2026-03-08 01:59", "2026-03-08 03:00");
  check_transition("America/New_York", utc(2026, 11, 1, 6, 0), "2026-11-01 01:59", "2026-11-01 01:00");
}

// The IANA time zone database: file europe, rule EU (last Sundays of March and October, 1:00 UTC).
TEST_CASE("Berlin's clocks skip an hour on 2026-03-29 and repeat one on 2026-10-25") {
  check_transition("Europe/Berlin", utc(2026, 3, 29, 1, 0), "2026-03-29 01:59", "2026-03-29 03:00");
  check_transition("Europe/Berlin", utc(2026, 10, 25, 1, 0), "2026-10-25 02:59", "2026-10-25 02:00");
}

// The IANA time zone database: file australasia, zone Pacific/Apia (from -11 to +13, in summer time).
TEST_CASE("Apia had no 30 December 2011") {
  check_transition("Pacific/Apia", utc(2011, 12, 30, 10, 0), "2011-12-29 23:59", "2011-12-31 00:00");
}

// The IANA time zone database: file asia, zone Asia/Kathmandu (+5:30 until 1986, +5:45 since).
TEST_CASE("Kathmandu is five hours and three quarters ahead since 1986") {
  check_transition("Asia/Kathmandu", utc(1985, 12, 31, 18, 30), "1985-12-31 23:59", "1986-01-01 00:15");
  const auto zone = zone_of("Asia/Kathmandu");
  CHECK(zone->local_text(utc(2026, 11, 25, 18, 14)) == "2026-11-25 23:59");
  CHECK(zone->local_text(utc(2026, 11, 25, 18, 15)) == "2026-11-26 00:00");
}

TEST_CASE("An instant before 1970 has the day it fell on") {
  const auto zone = zone_of("UTC");
  CHECK(zone->local_text(core::instant_from(-1)) == "1969-12-31 23:59");
  CHECK(zone->local_date(core::instant_from(-1)).iso() == "1969-12-31");
}

TEST_CASE("Outside the calendar's range the nearest day is given") {
  const auto zone = zone_of("UTC");
  CHECK(zone->local_date(utc(1850, 1, 1, 0, 0)).iso() == "1900-01-01");
  CHECK(zone->local_date(utc(10001, 1, 1, 0, 0)).iso() == "9999-12-31");
}

TEST_CASE("A dozen zones agree with the C library over random instants from 1970 to 2037") {
  std::mt19937_64 random{2037};
  for (const char* name : {"America/New_York", "America/St_Johns", "America/Sao_Paulo", "Europe/Berlin",
                           "Europe/London", "Europe/Istanbul", "Africa/Casablanca", "Asia/Kathmandu",
                           "Asia/Tehran", "Australia/Lord_Howe", "Pacific/Apia", "Pacific/Chatham"}) {
    const auto zone = zone_of(name);
    for (int i = 0; i < 300; ++i) {
      const auto t = core::instant_from(static_cast<std::int64_t>(random() % 2'114'380'800'000u));
      REQUIRE(zone->local_text(t) == as_the_c_library_says(name, t));
    }
  }
}

// Without Casablanca, whose clocks follow the moon.
TEST_CASE("Zones agree with the C library over random instants from 2037 to 2199") {
  std::mt19937_64 random{2199};
  const auto from = core::to_milliseconds(utc(2037, 1, 1, 0, 0));
  const auto span = static_cast<std::uint64_t>(core::to_milliseconds(utc(2200, 1, 1, 0, 0)) - from);
  for (const char* name : {"America/New_York", "America/St_Johns", "America/Sao_Paulo", "America/Santiago",
                           "Europe/Berlin", "Europe/London", "Europe/Istanbul", "Asia/Kathmandu", "Asia/Beirut",
                           "Australia/Lord_Howe", "Australia/Sydney", "Pacific/Auckland", "Pacific/Chatham"}) {
    const auto zone = zone_of(name);
    for (int i = 0; i < 300; ++i) {
      const auto t = core::instant_from(from + static_cast<std::int64_t>(random() % span));
      INFO(core::to_text(t));
      REQUIRE(zone->local_text(t) == as_the_c_library_says(name, t));
    }
  }
}

// The second Sunday of March 2038 is the 14th, the first of November 2040 the 4th.
TEST_CASE("New York's clocks are still changed after 2037") {
  check_transition("America/New_York", utc(2038, 3, 14, 7, 0), "2038-03-14 01:59", "2038-03-14 03:00");
  check_transition("America/New_York", utc(2040, 11, 4, 6, 0), "2040-11-04 01:59", "2040-11-04 01:00");
}

TEST_CASE("A zone keeps the name it was asked by, also when that is a link") {
  CHECK(zone_of("US/Eastern")->name() == "US/Eastern");
  CHECK(zone_of("Europe/Berlin")->name() == "Europe/Berlin");
}

TEST_CASE("A name that the database does not have is unknown") {
  for (const char* name : {"", "Nowhere/Nothing", "europe/berlin", "../etc/passwd", "/etc/passwd", "Europe",
                           "Europe/", "zone.tab", "+02:00"}) {
    const auto zone = system::open_zone(name);
    INFO(name);
    REQUIRE_FALSE(zone);
    CHECK(zone.failure().code == core::FailureCode::ZoneUnknown);
    CHECK(zone.failure().details == core::Details{{"zone", name}});
  }
}

TEST_CASE("The machine's own zone is one that opens, and TZ comes first when it names one") {
  CHECK(system::open_zone(system::system_zone_name()));
  for (const char* value : {"Asia/Kathmandu", ":Asia/Kathmandu"}) {
    ::setenv("TZ", value, 1);
    CHECK(system::system_zone_name() == "Asia/Kathmandu");
  }
  ::setenv("TZ", "ABC-5:45", 1);
  CHECK(system::open_zone(system::system_zone_name()));
  ::unsetenv("TZ");
}
