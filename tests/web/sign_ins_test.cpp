#include "web/sign_ins.h"

#include <catch2/catch.hpp>

using namespace loadlight;
using namespace std::chrono_literals;
using web::SignIns;

namespace {

struct Desk {
  int names = 0;
  SignIns sign_ins{[this] { return "browser-" + std::to_string(++names); }};
  SignIns::Time now{};
  std::chrono::seconds lock{2h};  // out of the way of what is not about it

  std::string who(const std::string& cookie, web::Touch touch = web::Touch::ByHand) {
    const auto found = sign_ins.find(cookie, now, touch, lock);
    if (found && found->locked) return "locked";
    return found ? found->operator_code + (found->by_pin ? " by PIN" : "") : "nobody";
  }
};

}  // namespace

TEST_CASE("a sign-in gives the browser a new name and the old one is worth nothing") {
  Desk desk;
  const auto first = desk.sign_ins.begin("unknown", "MB", true, desk.now);
  CHECK(desk.who(first) == "MB by PIN");
  CHECK(desk.who("unknown") == "nobody");
  const auto second = desk.sign_ins.begin(first, "JT", false, desk.now);
  CHECK(first != second);
  CHECK(desk.who(first) == "nobody");
  CHECK(desk.who(second) == "JT");
}

TEST_CASE("whoever asks for nothing for an hour is signed out") {
  Desk desk;
  const auto cookie = desk.sign_ins.begin("", "MB", false, desk.now);
  desk.now += SignIns::kIdle;
  CHECK(desk.who(cookie) == "MB");
  desk.now += SignIns::kIdle;
  CHECK(desk.who(cookie) == "MB");
  desk.now += SignIns::kIdle + 1s;
  CHECK(desk.who(cookie) == "nobody");
  desk.now -= SignIns::kIdle;
  CHECK(desk.who(cookie) == "nobody");
}

TEST_CASE("the rights of a PIN end a quarter of an hour after it was given") {
  Desk desk;
  const auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  for (int minute = 0; minute <= 15; ++minute) {
    CHECK(desk.who(cookie) == "MB by PIN");
    desk.now += 1min;
  }
  CHECK(desk.who(cookie) == "MB");
}

TEST_CASE("operators take turns without the rights of a PIN") {
  Desk desk;
  auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  cookie = desk.sign_ins.begin(cookie, "JT", true, desk.now);
  CHECK(desk.sign_ins.recent(cookie, desk.now) == std::vector<std::string>{"MB"});
  CHECK_FALSE(desk.sign_ins.switch_to(cookie, "XX", desk.now));
  REQUIRE(desk.sign_ins.switch_to(cookie, "MB", desk.now));
  CHECK(desk.who(cookie) == "MB");
  REQUIRE(desk.sign_ins.switch_to(cookie, "JT", desk.now));
  CHECK(desk.who(cookie) == "JT");
}

TEST_CASE("after ten minutes nobody is switched back to") {
  Desk desk;
  auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  cookie = desk.sign_ins.begin(cookie, "JT", false, desk.now);
  desk.now += SignIns::kSwitchBack + 1s;
  CHECK(desk.sign_ins.recent(cookie, desk.now).empty());
  CHECK_FALSE(desk.sign_ins.switch_to(cookie, "MB", desk.now));
  CHECK(desk.who(cookie) == "JT");
  CHECK_FALSE(desk.sign_ins.switch_to("unknown", "MB", desk.now));
}

TEST_CASE("a browser nobody touches is locked though its page goes on asking") {
  Desk desk;
  desk.lock = 10min;
  const auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  for (int minute = 0; minute < 10; ++minute) {
    desk.now += 1min;
    CHECK(desk.who(cookie, web::Touch::ByItself) == "MB by PIN");
  }
  CHECK(desk.who(cookie, web::Touch::ByHand) == "MB by PIN");  // the last moment still counts
  desk.now += 10min + 1ms;
  CHECK(desk.who(cookie, web::Touch::ByHand) == "locked");
  CHECK(desk.who(cookie, web::Touch::ByHand) == "locked");  // a hand alone opens nothing
  desk.lock = 1h;
  CHECK(desk.who(cookie) == "locked");
}

TEST_CASE("a locked browser is opened under its own name by whoever it was locked for and nobody else") {
  Desk desk;
  desk.lock = 10min;
  const auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  desk.now += 11min;
  REQUIRE(desk.who(cookie) == "locked");
  CHECK_FALSE(desk.sign_ins.unlock(cookie, "JT", true, desk.now));
  CHECK_FALSE(desk.sign_ins.unlock("unknown", "MB", true, desk.now));
  CHECK(desk.who(cookie) == "locked");
  REQUIRE(desk.sign_ins.unlock(cookie, "MB", false, desk.now));
  CHECK(desk.who(cookie) == "MB");  // a badge gives no rights of a PIN, and those of before are gone
  desk.now += 11min;
  REQUIRE(desk.sign_ins.unlock(cookie, "MB", true, desk.now));
  CHECK(desk.who(cookie) == "MB by PIN");
  desk.now += SignIns::kIdle + 1s;
  CHECK_FALSE(desk.sign_ins.unlock(cookie, "MB", true, desk.now));
}

TEST_CASE("no touch of a name brings back whoever left before the browser was locked") {
  Desk desk;
  desk.lock = 5min;
  auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  cookie = desk.sign_ins.begin(cookie, "JT", true, desk.now);
  const auto back = [&] { return desk.sign_ins.switch_to(cookie, "MB", desk.now, desk.lock); };
  CHECK(desk.sign_ins.recent(cookie, desk.now, desk.lock).size() == 1);
  desk.now += 5min + 1s;
  CHECK(desk.sign_ins.recent(cookie, desk.now, desk.lock).empty());
  CHECK_FALSE(back());
  CHECK(desk.who(cookie) == "locked");
  CHECK_FALSE(desk.sign_ins.switch_to(cookie, "JT", desk.now, desk.lock));
  REQUIRE(desk.sign_ins.unlock(cookie, "JT", true, desk.now));
  CHECK_FALSE(back());  // MB left longer ago than the lock allows
  cookie = desk.sign_ins.begin(cookie, "AB", true, desk.now);
  CHECK(desk.sign_ins.recent(cookie, desk.now, desk.lock) == std::vector<std::string>{"JT"});
}

TEST_CASE("how long is left is counted from the last touch") {
  Desk desk;
  const auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  desk.now += 30s;
  CHECK(desk.sign_ins.find(cookie, desk.now, web::Touch::ByItself, 1min)->left == 30s);
  CHECK(desk.sign_ins.find(cookie, desk.now, web::Touch::ByHand, 1min)->left == 60s);
  desk.now += 59500ms;
  CHECK(desk.sign_ins.find(cookie, desk.now, web::Touch::ByItself, 1min)->left == 1s);
}

TEST_CASE("a retired operator is signed out everywhere and cannot be switched to") {
  Desk desk;
  auto shared = desk.sign_ins.begin("", "JT", true, desk.now);
  shared = desk.sign_ins.begin(shared, "MB", false, desk.now);
  const auto own = desk.sign_ins.begin("", "JT", true, desk.now);
  desk.sign_ins.end_all_of("JT");
  CHECK(desk.who(own) == "nobody");
  CHECK(desk.who(shared) == "MB");
  CHECK_FALSE(desk.sign_ins.switch_to(shared, "JT", desk.now));
  desk.sign_ins.end_all_of("MB");
  CHECK(desk.who(shared) == "nobody");
}

TEST_CASE("signing out ends the browser's name") {
  Desk desk;
  const auto cookie = desk.sign_ins.begin("", "MB", true, desk.now);
  desk.sign_ins.end(cookie);
  CHECK(desk.who(cookie) == "nobody");
  CHECK(desk.sign_ins.recent(cookie, desk.now).empty());
}

TEST_CASE("of too many browsers the one that was idle longest goes") {
  Desk desk;
  const auto first = desk.sign_ins.begin("", "MB", false, desk.now);
  std::string last;
  for (std::size_t i = 0; i < SignIns::kMost; ++i) {
    desk.now += 1s;
    last = desk.sign_ins.begin("", "JT", false, desk.now);
  }
  CHECK(desk.who(first) == "nobody");
  CHECK(desk.who(last) == "JT");
}
