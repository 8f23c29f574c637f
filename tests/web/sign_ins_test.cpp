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

  std::string who(const std::string& cookie) {
    const auto found = sign_ins.find(cookie, now);
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
