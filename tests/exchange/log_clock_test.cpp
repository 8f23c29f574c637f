#include "exchange/log_clock.h"

#include <catch2/catch.hpp>

#include <vector>

namespace loadlight::exchange {
namespace {

LogMapping mapping_of(LogTimeForm form, double nominal = 5) {
  LogMapping mapping;
  mapping.time_form = form;
  mapping.nominal_seconds = nominal;
  return mapping;
}

double seconds_of(LogTimeForm form, std::string_view text) {
  return parse_log_time(text, "", mapping_of(form)).value_or(-1);
}

TEST_CASE("Elapsed times are read") {
  CHECK(seconds_of(LogTimeForm::Seconds, "12.5") == 12.5);
  CHECK(seconds_of(LogTimeForm::Minutes, "1.5") == 90);
  CHECK(seconds_of(LogTimeForm::MinutesSeconds, "75:10") == 4510);
  CHECK(seconds_of(LogTimeForm::HoursMinutesSeconds, "1:15:10.5") == 4510.5);
  for (const char* bad :
       {"", "1:2:3:4", "1:60", "1.5:10", ":10", "10:", "-1:10", "1:-1", "+1:10", "1: 1", "1:00 PM"}) {
    INFO(bad);
    CHECK(seconds_of(LogTimeForm::MinutesSeconds, bad) == -1);
  }
}

TEST_CASE("Times of day are read") {
  CHECK(seconds_of(LogTimeForm::Clock, "14:02:30") == 50550);
  CHECK(seconds_of(LogTimeForm::Clock, "14:02") == 50520);
  CHECK(seconds_of(LogTimeForm::Clock, "2:02:30 PM") == 50550);
  CHECK(seconds_of(LogTimeForm::Clock, "12:00am") == 0);
  CHECK(seconds_of(LogTimeForm::Clock, "12:00 p.m.") == -1);
  CHECK(seconds_of(LogTimeForm::Clock, "12:30 PM") == 45000);
  for (const char* bad : {"24:00", "14", "13:00 PM", "0:30 AM", "M", "PM"}) {
    INFO(bad);
    CHECK(seconds_of(LogTimeForm::Clock, bad) == -1);
  }
}

TEST_CASE("Dates are read in the order the mapping says") {
  LogMapping mapping = mapping_of(LogTimeForm::DateClock);
  const auto iso = parse_log_time("2026-11-25T14:02:30", "", mapping);
  REQUIRE(iso);
  CHECK(*iso == 1795615350);  // seconds since 1970, by `date -u -d 2026-11-25T14:02:30Z +%s`
  mapping.date_order = LogDateOrder::DayMonthYear;
  CHECK(parse_log_time("25.11.2026 14:02:30", "", mapping) == iso);
  mapping.date_order = LogDateOrder::MonthDayYear;
  CHECK(parse_log_time("11/25/2026 2:02:30 PM", "", mapping) == iso);
  for (const char* bad : {"25/11/2026 14:02", "2/30/2026 14:02", "11/25/26 14:02", "11/25/2026",
                          "11-25 14:02", "11//2026 14:02", "11/25/20261 14:02"}) {
    INFO(bad);
    CHECK_FALSE(parse_log_time(bad, "", mapping));
  }
  mapping.time_form = LogTimeForm::Clock;
  mapping.date = LogColumn{1, "", "", ""};
  CHECK(parse_log_time("14:02:30", "11/25/2026", mapping) == iso);
}

// The steps' kinds, and the seconds at the end, of times of day that follow one another.
struct Steps final {
  std::vector<LogStep> kinds;
  double seconds;
};
Steps follow(const LogMapping& mapping, std::initializer_list<const char*> times) {
  LogClock clock{mapping};
  Steps steps{};
  for (const char* time : times) steps.kinds.push_back(clock.take(*parse_log_time(time, "", mapping)));
  steps.seconds = clock.seconds();
  return steps;
}

TEST_CASE("Midnight is crossed as often as it comes") {
  const auto steps = follow(mapping_of(LogTimeForm::Clock, 60),
                            {"23:59:30", "0:00:30", "12:30:00", "23:59:59", "0:00:00", "0:00:00", "0:00:10"});
  CHECK(steps.kinds == std::vector{LogStep::First, LogStep::Midnight, LogStep::Forward, LogStep::Forward,
                                   LogStep::Midnight, LogStep::Same, LogStep::Forward});
  CHECK(steps.seconds == 86400 + 40);
}

TEST_CASE("An hour put back or on in the small hours is one interval") {
  auto steps = follow(mapping_of(LogTimeForm::Clock), {"2:59:55", "2:00:00", "2:00:05"});
  CHECK(steps.kinds[1] == LogStep::ClockChange);
  CHECK(steps.seconds == 10);
  steps = follow(mapping_of(LogTimeForm::Clock), {"1:59:55", "3:00:03", "3:00:08"});
  CHECK(steps.kinds[1] == LogStep::ClockChange);
  CHECK(steps.seconds == 10);  // eight seconds passed: five are credited
  steps = follow(mapping_of(LogTimeForm::Clock),
                 {"23:59:55", "1:00:00", "1:00:05", "12:00:00", "23:59:00", "0:01:00"});
  CHECK(steps.kinds[1] == LogStep::ClockChange);
  CHECK(steps.kinds[5] == LogStep::Midnight);
  CHECK(steps.seconds == 5 + 82740 + 120);
}

TEST_CASE("An hour anywhere else is a gap or an error") {
  CHECK(follow(mapping_of(LogTimeForm::Clock), {"12:59:55", "12:00:00"}).kinds[1] == LogStep::Back);
  CHECK(follow(mapping_of(LogTimeForm::Clock), {"11:59:55", "13:00:00"}).seconds == 3605);
  CHECK(follow(mapping_of(LogTimeForm::Clock), {"2:59:55", "2:00:10"}).kinds[1] == LogStep::Back);
  CHECK(follow(mapping_of(LogTimeForm::Clock), {"2:59:55", "1:59:55"}).kinds[1] == LogStep::Back);
  CHECK(follow(mapping_of(LogTimeForm::Clock), {"2:59:55", "2:00:00", "2:59:55", "2:00:00"}).kinds[3] ==
        LogStep::Back);
  LogMapping utc = mapping_of(LogTimeForm::Clock);
  utc.zone = LogZone::Utc;
  CHECK(follow(utc, {"2:59:55", "2:00:00"}).kinds[1] == LogStep::Back);
  CHECK(follow(utc, {"1:59:55", "3:00:00"}).seconds == 3605);
  CHECK(follow(mapping_of(LogTimeForm::HoursMinutesSeconds), {"2:59:55", "2:00:00"}).kinds[1] ==
        LogStep::Back);
}

}  // namespace
}  // namespace loadlight::exchange
