#include "loadlight/app/sign_in.h"

#include <map>

#include "app/office_at_work.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::tests {
namespace {

using port::PinAnswer;

// PINs in memory; the next answer can be set.
class HandPins final : public port::PinBook {
 public:
  core::Result<port::PinCheck> check(std::string_view code, std::string_view pin, core::Instant) override {
    ++checks;
    if (broken) return core::Failure{core::FailureCode::PinsUnreadable, {}, {}};
    if (next.answer != PinAnswer::None) return next;
    const auto found = pins.find(code);
    if (found == pins.end()) return port::PinCheck{};
    return port::PinCheck{found->second == pin ? PinAnswer::Right : PinAnswer::Wrong, {}};
  }
  core::Result<void> set(std::string_view code, std::string_view pin) override {
    if (broken) return core::Failure{core::FailureCode::PinsUnreadable, {}, {}};
    pins.insert_or_assign(std::string{code}, std::string{pin});
    return {};
  }
  core::Result<void> remove(std::string_view code) override {
    pins.erase(std::string{code});
    return {};
  }
  core::Result<bool> has(std::string_view code) const override { return pins.contains(code); }

  std::map<std::string, std::string, std::less<>> pins;
  port::PinCheck next;
  bool broken = false;
  int checks = 0;
};

std::string signs_in(OfficeAtWork& office, HandPins& pins, const char* code, const char* pin) {
  return code_of(app::sign_in_by_pin(office.ports(), pins, code, pin));
}

std::string badge(OfficeAtWork& office, const char* code) {
  std::string text = core::unsigned_badge(code);
  return text + office.keyring.mac(text);
}

std::string gives(OfficeAtWork& office, HandPins& pins, const char* by, const char* of, const char* pin) {
  return code_of(app::set_pin(office.ports(), pins, {by, of, pin}));
}

}  // namespace

TEST_CASE("An issued PIN is six digits that are no row, another each time") {
  OfficeAtWork office;
  HandPins pins;
  std::string before;
  for (int i = 0; i < 20; ++i) {
    const std::string pin = must(app::set_pin(office.ports(), pins, {"AB", "CD", ""}));
    CHECK(pin.size() == 6);
    CHECK(pin.find_first_not_of("0123456789") == std::string::npos);
    CHECK(pin != before);
    before = pin;
  }
  CHECK(signs_in(office, pins, "CD", before.c_str()) == "ok");
}

TEST_CASE("A chosen PIN has eight or more characters and is no row") {
  OfficeAtWork office;
  HandPins pins;
  for (const char* weak : {"1234567", "12345678", "87654321", "00000000", "aaaaaaaaaa", "abcdefgh"}) {
    CAPTURE(weak);
    CHECK(gives(office, pins, "CD", "CD", weak) == "pin-too-weak");
  }
  CHECK(gives(office, pins, "CD", "CD", std::string(65, 'x').replace(3, 1, "y").c_str()) == "pin-too-weak");
  CHECK(pins.pins.empty());
  CHECK(gives(office, pins, "CD", "CD", "12345679") == "ok");
  CHECK(gives(office, pins, "CD", "CD", "lamp lit") == "ok");
}

TEST_CASE("Everybody gives himself a PIN and a lead anybody") {
  OfficeAtWork office;
  HandPins pins;
  CHECK(gives(office, pins, "CD", "CD", "") == "ok");
  CHECK(gives(office, pins, "CD", "AB", "") == "lead-required");
  CHECK(gives(office, pins, "AB", "CD", "") == "ok");
  CHECK(gives(office, pins, "AB", "XX", "") == "operator-unknown");
  CHECK(gives(office, pins, "", "CD", "") == "operator-missing");
  CHECK_FALSE(pins.pins.contains("AB"));
}

TEST_CASE("The record keeps who was given a PIN and never the PIN") {
  OfficeAtWork office;
  HandPins pins;
  const std::string pin = must(app::set_pin(office.ports(), pins, {"AB", "CD", "lamp lit"}));
  CHECK(office.newest_event_kind() == "pin-set");
  must(office.store.each_entry([&](const core::LedgerEntry& entry) {
    CHECK(entry.body.find(pin) == std::string::npos);
    return true;
  }));
}

TEST_CASE("A PIN whose event cannot be written is not set") {
  OfficeAtWork office;
  HandPins pins;
  const std::size_t before = office.ledger_size();
  for (int nth = 1; nth < 12; ++nth) {
    office.store.break_call(nth, broken_store());
    if (gives(office, pins, "AB", "CD", "lamp lit") == "ok") break;
    CHECK(pins.pins.empty());
    CHECK(office.ledger_size() == before);
  }
  CHECK(pins.pins.contains("CD"));
}

TEST_CASE("An operator there is none of is told no more than a wrong PIN") {
  OfficeAtWork office;
  HandPins pins;
  pins.pins["CD"] = "135790";
  CHECK(signs_in(office, pins, "CD", "135790") == "ok");
  CHECK(signs_in(office, pins, "CD", "135791") == "pin-wrong");
  CHECK(signs_in(office, pins, "NO", "135790") == "pin-wrong");
  CHECK(signs_in(office, pins, "", "") == "pin-wrong");
  CHECK(signs_in(office, pins, "AB", "135790") == "pin-missing");
}

TEST_CASE("What the book says of a try is passed on and its fault lets nobody in") {
  OfficeAtWork office;
  HandPins pins;
  pins.pins["CD"] = "135790";
  pins.next = {PinAnswer::Wait, std::chrono::seconds{32}};
  CHECK(signs_in(office, pins, "CD", "135790") == "pin-wait");
  pins.next = {PinAnswer::Locked, {}};
  CHECK(signs_in(office, pins, "CD", "135790") == "pin-locked");
  pins.broken = true;
  CHECK(signs_in(office, pins, "CD", "135790") == "pins-unreadable");
}

TEST_CASE("Whoever does not work here any more is not asked for a PIN") {
  OfficeAtWork office;
  HandPins pins;
  pins.pins["CD"] = "135790";
  must(app::retire_entry(office.ports(), "AB", app::OfficeTable::Operators, "CD"));
  CHECK(signs_in(office, pins, "CD", "135790") == "ok");  // the last day counts
  office.clock.turn_days(1);
  const int checks = pins.checks;
  CHECK(signs_in(office, pins, "CD", "135790") == "operator-not-current");
  CHECK(pins.checks == checks);
  CHECK(code_of(app::sign_in_by_badge(office.ports(), badge(office, "CD"))) == "operator-not-current");
  CHECK(code_of(app::signed_in_operator(office.ports(), "CD")) == "operator-not-current");
}

TEST_CASE("A badge is taken under any key the office held and under no other") {
  OfficeAtWork office;
  const std::string old = badge(office, "CD");
  office.keyring.change_key("second key");
  CHECK(must(app::sign_in_by_badge(office.ports(), old)).code == "CD");
  CHECK(must(app::sign_in_by_badge(office.ports(), badge(office, "AB"))).code == "AB");
  PlainKeyring stranger{"another office"};
  std::string forged = core::unsigned_badge("CD");
  forged += stranger.mac(forged);
  CHECK(code_of(app::sign_in_by_badge(office.ports(), forged)) == "badge-not-authentic");
  CHECK(code_of(app::sign_in_by_badge(office.ports(), badge(office, "XX"))) == "operator-unknown");
}

TEST_CASE("No other label of the office is a badge") {
  OfficeAtWork office;
  const auto package = office.print({"S1", 1}).front();
  std::string tag = core::unsigned_shelf_tag("CD");
  tag += office.keyring.mac(tag);
  for (const std::string& text : {package.payload, tag, std::string{"CD"}, std::string{}, std::string{"LLO2.HCD.Z0123456789ABC"}}) {
    CAPTURE(text);
    CHECK(code_of(app::sign_in_by_badge(office.ports(), text)) == "badge-not-authentic");
  }
}

}  // namespace loadlight::tests
