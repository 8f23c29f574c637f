#include "loadlight/core/dates.h"

#include <catch2/catch.hpp>
#include <cstdint>
#include <limits>
#include <string>

using namespace loadlight::core;

namespace {

CivilDate day(int y, unsigned m, unsigned d) {
  return *CivilDate::from(y, m, d);
}

// The calendar rule as published (the bull Inter gravissimas, 1582; ISO 8601, "leap year"): every fourth
// year, of the centuries only every fourth.
bool leap_as_published(int year) {
  return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

unsigned length_as_published(int year, unsigned month) {
  switch (month) {
    case 2:
      return leap_as_published(year) ? 29 : 28;
    case 4:
    case 6:
    case 9:
    case 11:
      return 30;
    default:
      return 31;
  }
}

}  // namespace

TEST_CASE("Of 1900, 2000, 2024 and 2100 the middle two have a leap day") {
  CHECK_FALSE(CivilDate::from(1900, 2, 29));
  CHECK(CivilDate::from(2000, 2, 29));
  CHECK(CivilDate::from(2024, 2, 29));
  CHECK_FALSE(CivilDate::from(2100, 2, 29));
}

TEST_CASE("Every month from 1900 to 2400 ends where the published rule ends it") {
  for (int year = 1900; year <= 2400; ++year) {
    for (unsigned month = 1; month <= 12; ++month) {
      const unsigned last = length_as_published(year, month);
      REQUIRE(CivilDate::from(year, month, last));
      REQUIRE_FALSE(CivilDate::from(year, month, last + 1));
    }
  }
}

TEST_CASE("Walking day by day from 1900 to 2400 names each day of the published calendar once") {
  CivilDate walking = day(1900, 1, 1);
  for (int year = 1900; year <= 2400; ++year) {
    for (unsigned month = 1; month <= 12; ++month) {
      for (unsigned d = 1; d <= length_as_published(year, month); ++d) {
        REQUIRE(walking == day(year, month, d));
        walking = walking.plus_days(1);
      }
    }
  }
}

TEST_CASE("No other day than a real one between 1900 and 9999 exists") {
  CHECK_FALSE(CivilDate::from(1899, 12, 31));
  CHECK(CivilDate::from(1900, 1, 1));
  CHECK(CivilDate::from(9999, 12, 31));
  CHECK_FALSE(CivilDate::from(10000, 1, 1));
  CHECK_FALSE(CivilDate::from(2026, 0, 1));
  CHECK_FALSE(CivilDate::from(2026, 13, 1));
  CHECK_FALSE(CivilDate::from(2026, 1, 0));
}

TEST_CASE("A month later is the same day, or the last one of a shorter month") {
  CHECK(day(2026, 1, 31).plus_months(1) == day(2026, 2, 28));
  CHECK(day(2024, 1, 31).plus_months(1) == day(2024, 2, 29));
  CHECK(day(2026, 1, 31).plus_months(3) == day(2026, 4, 30));
  CHECK(day(2026, 10, 15).plus_months(5) == day(2027, 3, 15));
  CHECK(day(2024, 2, 29).plus_months(12) == day(2025, 2, 28));
  CHECK(day(2024, 2, 29).plus_months(48) == day(2028, 2, 29));
  CHECK(day(2026, 3, 31).plus_months(-1) == day(2026, 2, 28));
  CHECK(day(2026, 1, 31).plus_months(-13) == day(2024, 12, 31));
  CHECK(day(2026, 7, 9).plus_months(0) == day(2026, 7, 9));
}

TEST_CASE("Arithmetic past the range stops at its ends") {
  CHECK(day(9999, 12, 1).plus_days(60) == day(9999, 12, 31));
  CHECK(day(9999, 12, 1).plus_months(1) == day(9999, 12, 31));
  CHECK(day(1900, 1, 2).plus_days(-2) == day(1900, 1, 1));
  CHECK(day(1900, 1, 2).plus_months(-1) == day(1900, 1, 1));
}

TEST_CASE("Days are counted across a leap day and back") {
  CHECK(day(2024, 2, 28).days_until(day(2024, 3, 1)) == 2);
  CHECK(day(2026, 2, 28).days_until(day(2026, 3, 1)) == 1);
  CHECK(day(2026, 3, 1).days_until(day(2026, 2, 28)) == -1);
  CHECK(day(2000, 1, 1).days_until(day(2400, 1, 1)) == 146097);  // a Gregorian cycle of 400 years
  CHECK(day(2026, 5, 5).days_until(day(2026, 5, 5)) == 0);
}

TEST_CASE("A date is written and read in the two forms of ISO 8601, and in no other") {
  CHECK(day(2026, 2, 3).basic() == "20260203");
  CHECK(day(2026, 2, 3).iso() == "2026-02-03");
  CHECK(CivilDate::parse_basic("20260203") == day(2026, 2, 3));
  CHECK(CivilDate::parse_iso("2026-02-03") == day(2026, 2, 3));
  for (const char* text : {"", "2026023", "202602033", "20261301", "20260229", "2026-2-3", "2026 203",
                           "-2260203", "+2260203", "2026020x"}) {
    CHECK_FALSE(CivilDate::parse_basic(text));
  }
  for (const char* text : {"", "20260203", "2026-02-3", "2026-02-030", "2026/02/03", "2026-02-29",
                           "2026--2-03", "26-02-0003", " 2026-02-03"}) {
    CHECK_FALSE(CivilDate::parse_iso(text));
  }
}

TEST_CASE("Dates compare by the calendar") {
  CHECK(day(2026, 2, 3) < day(2026, 2, 4));
  CHECK(day(2025, 12, 31) < day(2026, 1, 1));
  CHECK(day(2026, 2, 3) <= day(2026, 2, 3));
}

TEST_CASE("An instant is written in UTC to the second below it") {
  CHECK(to_text(instant_from(0)) == "1970-01-01T00:00:00Z");
  CHECK(to_text(instant_from(1764079387999)) == "2025-11-25T14:03:07Z");
  CHECK(to_text(instant_from(951782400000)) == "2000-02-29T00:00:00Z");
  CHECK(to_text(instant_from(-1)) == "1969-12-31T23:59:59Z");
  CHECK(to_text(instant_from(std::numeric_limits<std::int64_t>::min())) == "1900-01-01T00:00:00Z");
  CHECK(to_text(instant_from(std::numeric_limits<std::int64_t>::max())) == "9999-12-31T23:59:59Z");
  CHECK(to_milliseconds(instant_from(-5)) == -5);
}
