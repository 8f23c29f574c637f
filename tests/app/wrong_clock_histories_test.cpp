// Random histories of an office whose clock stands wrong now and then, beside a naive model that knows the true
// time. What the model calls unknowable, nothing on record shows: a clock that was set back while nobody worked,
// or one that stood ahead and was waited for.

#include <algorithm>
#include <random>

#include "app/office_at_work.h"
#include "loadlight/app/accept_clock.h"

namespace loadlight::tests {
namespace {

using core::Instant;
using core::LoadName;
using core::Outcome;
using std::chrono::hours;
using std::chrono::minutes;

constexpr int kShelfLife = 30;
constexpr minutes kSkew{7};  // two stations apart by less than the tolerance
constexpr minutes kYear{365 * 24 * 60};

core::CivilDate day_of(Instant at) { return UtcZone{}.local_date(at); }

struct TruePackage final {
  core::Package package;
  Instant run_at;  // truly
  bool knowable = true;
  bool tested = false;
};

class History final {
 public:
  explicit History(unsigned seed) : draw_(seed), true_now_(office_.clock.now()) {}

  void live(int steps) {
    for (int i = 0; i < steps; ++i) step();
  }
  // The one documented way: the clock put right, accepted by the lead, the day's test run again.
  void put_in_order();
  // A new load clears.
  bool works() {
    tested();
    return process() && is_clear(packages_.back());
  }

  int cleared = 0, refused = 0, accepted = 0;

 private:
  int up_to(int most) { return std::uniform_int_distribution<int>{0, most}(draw_); }
  // Where the station stands that acts next: a little apart from the other.
  void show() {
    const minutes skew{up_to(2 * static_cast<int>(kSkew.count())) - kSkew.count()};
    const Instant shown = true_now_ + wrong_by_ + skew;
    office_.clock.turn(std::chrono::duration_cast<minutes>(shown - office_.clock.now()));
  }
  void pass(minutes time) {
    true_now_ += time;
    show();
  }
  bool behind() { return must(app::show_clock(office_.ports())).behind; }

  void step();
  void leap();
  void put_right();
  void accept() {
    must(app::accept_clock(office_.ports(), {"AB", "the radio's clock says so"}));
    ++accepted;
    episode_ = packages_.size();
  }
  bool tested();
  bool process();
  bool is_clear(const TruePackage& one);
  void check_any() {
    if (packages_.empty()) return;
    const bool newest = up_to(2) == 0;
    const auto at = newest ? packages_.size() - 1
                           : static_cast<std::size_t>(up_to(static_cast<int>(packages_.size()) - 1));
    is_clear(packages_[at]);
  }

  std::mt19937 draw_;
  OfficeAtWork office_{"us-cdc-2003", kShelfLife, DailyTests::AsTheProfileAsks};
  Instant true_now_;
  minutes wrong_by_{0};
  std::vector<TruePackage> packages_;
  std::size_t episode_ = 0;  // the first package since the clock went wrong
  Instant unknown_until_{};  // until that day a test may be one of a wrong day that nobody noticed
  std::optional<Instant> tested_at_;
  int next_ = 1;
};

void History::leap() {
  if (wrong_by_.count() != 0 || behind()) return;
  const int kind = up_to(5);
  if (kind == 0) wrong_by_ = minutes{30 + up_to(600)};
  if (kind == 1) wrong_by_ = minutes{24 * 60 * (1 + up_to(3))};
  if (kind == 2) wrong_by_ = kYear;
  if (kind == 3) wrong_by_ = -minutes{30 + up_to(3000)};
  if (kind == 4) wrong_by_ = -kYear;
  if (kind == 5) wrong_by_ = minutes{24 * 60 * 60};
  episode_ = packages_.size();
  show();
}

void History::put_right() {
  const bool was_ahead = wrong_by_.count() > 0;
  const Instant shown_before = office_.clock.now();
  wrong_by_ = minutes{0};
  show();
  if (behind() && was_ahead) return accept();
  unknown_until_ = std::max(unknown_until_, shown_before);
  for (auto one = episode_; one < packages_.size(); ++one) packages_[one].knowable = false;
  if (behind()) accept();  // a station's skew and a clock that was behind: no more than minutes
}

void History::step() {
  const int what = up_to(11);
  if (what <= 2) return pass(minutes{up_to(600)});
  if (what == 3) return pass(hours{24} * up_to(6));
  if (what == 4) return leap();
  if (what == 5) return put_right();
  if (what == 6) return void(tested());
  if (what <= 8) return void(process());
  for (int i = 0; i < 3; ++i) check_any();
}

// The day's test of S1; false where the clock forbids to begin it.
bool History::tested() {
  show();
  const LoadName name{"S1", next_};
  const auto opened = app::open_load(
      office_.ports(), {"CD", "S1", "steam-134", core::LoadPurpose::BowieDick, next_, std::nullopt});
  if (!opened) return false;
  ++next_;
  if (const auto started = app::start_load(office_.ports(), {"CD", name}); !started) {
    REQUIRE(code_of(started) == "clock-behind-record");
    ++refused;
    return false;
  }
  const Instant begun = true_now_;
  pass(minutes{20});
  must(app::finish_load(office_.ports(), {"CD", name, "", std::nullopt}));
  app::IndicatorRequest sheet;
  sheet.operator_code = "CD";
  sheet.load = name;
  sheet.place = core::IndicatorPlace::ProcessChallenge;
  sheet.type = 2;
  sheet.lot = "BD1";
  sheet.expires = *core::CivilDate::from(2120, 1, 1);
  sheet.passed = true;
  must(app::record_indicator(office_.ports(), sheet));
  if (office_.release(name).load.state == core::LoadState::Released) tested_at_ = begun;
  return true;
}

// One package in a load of S1; false where the clock forbids it or the load is not released.
bool History::process() {
  show();
  const LoadName name{"S1", next_};
  auto request = office_.print_request(name);
  const auto printed = app::print_labels(office_.ports(), office_.shop(), request);
  if (!printed) {
    REQUIRE(code_of(printed) == "clock-behind-record");
    ++refused;
    return false;
  }
  ++next_;
  const core::Package package = printed->packages.front();
  TruePackage truth{package, true_now_,
                    wrong_by_.count() >= 0 && day_of(unknown_until_) < day_of(office_.clock.now()),
                    tested_at_ && true_now_ - *tested_at_ < hours{24}};
  must(app::open_load(office_.ports(), {"CD", "S1", "dynamic-132-wrapped", core::LoadPurpose::Process, name.number,
                                        std::nullopt}));
  must(app::add_to_load(office_.ports(), {"CD", name, {package.id.text()}, {}}));
  if (!app::start_load(office_.ports(), {"CD", name})) return false;
  pass(minutes{45});
  must(app::finish_load(office_.ports(), {"CD", name, "", std::nullopt}));
  office_.give_evidence(name);
  packages_.push_back(truth);
  return office_.release(name).load.state == core::LoadState::Released;
}

// Asks at the chair, and holds the answer against the truth.
bool History::is_clear(const TruePackage& one) {
  show();
  const bool was_behind = behind();
  const auto reply = office_.check(one.package.payload);
  if (reply.verdict.outcome() != Outcome::Clear) return false;
  ++cleared;
  CAPTURE(core::to_text(true_now_), core::to_text(one.run_at), wrong_by_.count());
  REQUIRE_FALSE(was_behind);
  REQUIRE(office_.load(one.package.load).state == core::LoadState::Released);
  if (!one.knowable || wrong_by_.count() < 0) return true;
  const core::CivilDate last = day_of(one.run_at + 2 * kSkew).plus_days(kShelfLife);
  REQUIRE(day_of(true_now_ - 2 * kSkew) <= last);
  REQUIRE(one.tested);
  return true;
}

void History::put_in_order() {
  put_right();
  const auto of_day = std::chrono::floor<minutes>(true_now_ - std::chrono::floor<std::chrono::days>(true_now_));
  pass(hours{36} - of_day);  // to noon
  if (behind()) accept();
}

}  // namespace

TEST_CASE("Whatever the clock did nothing is clear that the truth forbids and one way leads back to clear") {
  int cleared = 0, refused = 0, accepted = 0;
  for (unsigned seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    History history{seed};
    history.live(60);
    history.put_in_order();
    REQUIRE(history.works());
    cleared += history.cleared;
    refused += history.refused;
    accepted += history.accepted;
  }
  CAPTURE(cleared, refused, accepted);
  REQUIRE(cleared > 800);
  REQUIRE(refused > 50);
  REQUIRE(accepted > 100);
}

}  // namespace loadlight::tests
