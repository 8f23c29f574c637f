#include "loadlight/core/clock_doubt.h"

#include <catch2/catch.hpp>

#include <random>

namespace loadlight::core {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

constexpr Minutes kTolerance{15};
const Instant kStart = kProgramMade + days{300};

ClockLeaps walked(const std::vector<Instant>& times) {
  ClockLeaps leaps;
  std::int64_t sequence = 0;
  for (const Instant at : times) leaps.take(++sequence, at, false);
  return leaps;
}

}  // namespace

TEST_CASE("A clock that lies behind by no more than the tolerance puts nothing into doubt") {
  const auto leaps = walked({kStart, kStart + hours{1}});
  REQUIRE(leaps.when_put_right(kStart + hours{1} - minutes{15}, kTolerance).empty());
  REQUIRE(leaps.when_put_right(kStart + hours{2}, kTolerance).empty());
  REQUIRE_FALSE(leaps.when_put_right(kStart + hours{1} - minutes{16}, kTolerance).empty());
  REQUIRE(ClockLeaps{}.when_put_right(kStart, kTolerance).empty());
}

TEST_CASE("What follows a leap of a year may be as much earlier as the gap is long, and nothing before it") {
  const auto leaps = walked({kStart, kStart + hours{1}, kStart + days{366}, kStart + days{367}});
  const auto doubts = leaps.when_put_right(kStart + days{1} + hours{2}, kTolerance);
  REQUIRE(doubts == std::vector<ClockDoubt>{{3, days{366} - hours{1} + kTolerance}});
  REQUIRE(doubt_at(doubts, 2).count() == 0);
  REQUIRE(doubt_at(doubts, 3) == days{366} - hours{1} + kTolerance);
  REQUIRE(doubt_at(doubts, 4) == days{366} - hours{1} + kTolerance);
}

TEST_CASE("Every gap that a leap may hide in counts, the longest so far for each event") {
  const auto leaps = walked({kStart, kStart + hours{14}, kStart + hours{15}, kStart + days{4}, kStart + days{5}});
  const auto doubts = leaps.when_put_right(kStart + days{5} - hours{10}, kTolerance);
  REQUIRE(doubts == std::vector<ClockDoubt>{{2, hours{14} + kTolerance}, {4, days{4} - hours{15} + kTolerance}});
}

TEST_CASE("Without a gap as long as the clock was put back, everything since the last correction is in doubt") {
  ClockLeaps leaps = walked({kStart, kStart + hours{1}, kStart + hours{2}});
  REQUIRE(leaps.when_put_right(kStart - days{1}, kTolerance) ==
          std::vector<ClockDoubt>{{1, hours{26} + days{31}}});
  leaps.take(4, kStart - days{1}, true);
  leaps.take(5, kStart - hours{23}, false);
  REQUIRE(leaps.when_put_right(kStart - days{2}, kTolerance) == std::vector<ClockDoubt>{{4, hours{1} + kTolerance}});
}

TEST_CASE("A clock put back by minutes costs a month at the most however long the office was closed before") {
  const auto leaps = walked({kStart, kStart + days{400}});
  REQUIRE(leaps.when_put_right(kStart + days{400} - minutes{16}, kTolerance) ==
          std::vector<ClockDoubt>{{2, days{31} + minutes{16}}});
}

TEST_CASE("Events of a clock that was behind hide no leap") {
  const auto leaps = walked({kStart, kStart - days{365}, kStart + days{30}, kStart + days{31}});
  REQUIRE(leaps.when_put_right(kStart + days{2}, kTolerance) == std::vector<ClockDoubt>{{3, days{30} + kTolerance}});
}

TEST_CASE("A doubt is read back as it was written, and nothing else is one") {
  const ClockDoubt doubt{17, Milliseconds{31'536'000'000}};
  REQUIRE(to_text(doubt) == "17 31536000000");
  REQUIRE(parse_clock_doubt(to_text(doubt)) == doubt);
  for (const char* text : {"", "17", "17 ", " 5", "a 5", "17 5x", "17 -5", "-1 5", "17  5", "17 5 6"}) {
    CAPTURE(text);
    REQUIRE_FALSE(parse_clock_doubt(text));
  }
}

// The clock leaps forward once and is put right later: the true time of each event is never earlier than what
// its doubt leaves.
TEST_CASE("No event after one leap happened earlier than its doubt allows") {
  std::mt19937 draw{20261129};
  const auto up_to = [&draw](int most) { return std::uniform_int_distribution<int>{0, most}(draw); };
  int doubted = 0;
  for (int history = 0; history < 3000; ++history) {
    ClockLeaps leaps;
    std::vector<std::pair<Instant, Instant>> shown_and_true;
    Instant now = kStart;
    const int leap_before = 1 + up_to(20);
    const minutes leap{16 + (up_to(1) == 0 ? up_to(3000) : up_to(600'000))};
    for (int i = 0; i <= 20; ++i) {
      now += minutes{up_to(9) == 0 ? up_to(20'000) : up_to(90)};
      const minutes skew{up_to(14) - 7};  // of the station that wrote it
      const Instant shown = (i >= leap_before ? now + leap : now) + skew;
      leaps.take(i + 1, shown, false);
      shown_and_true.emplace_back(shown, now);
    }
    const auto doubts = leaps.when_put_right(now + minutes{up_to(3000)}, kTolerance);
    if (doubts.empty()) continue;
    ++doubted;
    for (std::size_t i = 0; i < shown_and_true.size(); ++i) {
      const auto [shown, truth] = shown_and_true[i];
      REQUIRE(shown - doubt_at(doubts, static_cast<std::int64_t>(i) + 1) <= truth + minutes{7});
    }
  }
  REQUIRE(doubted > 1000);
}

}  // namespace loadlight::core
