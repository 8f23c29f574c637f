#include "loadlight/app/sign_in.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <variant>

#include "app/rules_in_force.h"
#include "loadlight/app/act.h"
#include "loadlight/app/cut_off.h"
#include "loadlight/core/payload.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Operator;
using core::Result;

constexpr std::size_t kIssuedDigits = 6;
constexpr std::size_t kLeastChosen = 8;
constexpr std::size_t kMostChosen = 64;

Failure refused(const port::PinCheck& check) {
  const std::string seconds = std::to_string(check.wait.count());
  switch (check.answer) {
    case port::PinAnswer::Wait:
      return {FailureCode::PinWait, {{"seconds", seconds}}, {}};
    case port::PinAnswer::Locked:
      return {FailureCode::PinLocked, {{"count", std::to_string(port::PinBook::kMostWrong)}}, {}};
    case port::PinAnswer::None:
      return {FailureCode::PinMissing, {}, {}};
    case port::PinAnswer::Wrong:
    case port::PinAnswer::Right:
      break;
  }
  if (check.wait.count() == 0) return {FailureCode::PinWrong, {}, {}};
  return {FailureCode::PinWrong, {{"seconds", seconds}}, {}};
}

// A uniform digit: bytes that would favour the low ones are drawn again.
char random_digit(const port::Keyring& keyring) {
  std::uint8_t byte = 255;
  while (byte >= 250) keyring.fill_random({&byte, 1});
  return static_cast<char>('0' + byte % 10);
}

bool is_row(std::string_view pin) {
  const auto steps_by = [pin](int step) {
    return std::adjacent_find(pin.begin(), pin.end(), [step](char a, char b) { return b - a != step; }) ==
           pin.end();
  };
  return steps_by(0) || steps_by(1) || steps_by(-1);
}

Result<std::string> pin_of(const Ports& ports, const PinRequest& request) {
  if (request.pin.empty()) {
    std::string issued;
    while (issued.size() < kIssuedDigits || is_row(issued)) {
      if (issued.size() == kIssuedDigits) issued.clear();
      issued.push_back(random_digit(ports.keyring));
    }
    return issued;
  }
  if (const auto ok = check_chosen_pin(request.pin); !ok) return ok.failure();
  return request.pin;
}

}  // namespace

Result<void> check_chosen_pin(std::string_view pin) {
  const bool fits = pin.size() >= kLeastChosen && pin.size() <= kMostChosen;
  if (!fits || is_row(pin)) return Failure{FailureCode::PinTooWeak, {}, {}};
  return {};
}

Result<Operator> signed_in_operator(const Ports& ports, std::string_view code) {
  const auto reading = begin_reading(ports);
  if (!reading) return reading.failure();
  const port::Unit& unit = reading->unit();
  const auto found = unit.operators().find(code);
  if (!found) return found.failure();
  const core::Details who{{"operator", std::string{code}}};
  if (!*found) return Failure{FailureCode::OperatorUnknown, who, {}};
  const auto works = works_here(ports, unit, **found);
  if (!works) return works.failure();
  if (!*works) {
    const core::CivilDate today = ports.zone.local_date(ports.clock.now());
    return Failure{FailureCode::OperatorNotCurrent, {who.front(), {"date", today.iso()}}, {}};
  }
  return **found;
}

std::chrono::minutes idle_lock(const Ports& ports) {
  constexpr std::chrono::minutes kShortest{1};
  const auto reading = begin_reading(ports);
  if (!reading) return kShortest;
  const auto office = reading->unit().office();
  if (!office) return kShortest;
  const auto profile = profile_in_force(reading->unit(), *office);
  return profile ? std::chrono::minutes{profile->idle_lock_minutes} : kShortest;
}

Result<Operator> sign_in_by_pin(const Ports& ports, port::PinBook& pins, std::string_view code,
                                std::string_view pin) {
  const auto who = signed_in_operator(ports, code);
  if (!who && who.failure().code == FailureCode::OperatorUnknown) {
    return Failure{FailureCode::PinWrong, {}, {}};
  }
  if (!who) return who.failure();
  const auto check = pins.check(code, pin, ports.clock.now());
  if (!check) return check.failure();
  if (check->answer != port::PinAnswer::Right) return refused(*check);
  return *who;
}

Result<Operator> sign_in_by_badge(const Ports& ports, std::string_view text) {
  const auto parsed = core::parse_payload(text);
  const auto* badge = std::get_if<core::BadgeText>(&parsed);
  if (!badge || !ports.keyring.verifies(badge->signed_part, badge->authenticator)) {
    return Failure{FailureCode::BadgeNotAuthentic, {}, {}};
  }
  return signed_in_operator(ports, badge->operator_code);
}

Result<std::string> set_pin(const Ports& ports, port::PinBook& pins, const PinRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (request.of != act->who.code) {
    if (const auto lead = require_lead(act->who); !lead) return lead.failure();
    const auto whose = act->unit->operators().find(request.of);
    if (!whose) return whose.failure();
    if (!*whose) return Failure{FailureCode::OperatorUnknown, {{"operator", request.of}}, {}};
  }
  const auto pin = pin_of(ports, request);
  if (!pin) return pin.failure();
  if (const auto told = act->write(core::EventKind::PinSet, request.of, {}); !told) return told.failure();
  // The event first: a PIN that was set without a trace would be worse than a trace without a PIN.
  if (const auto done = act->unit->commit(); !done) return done.failure();
  if (const auto set = pins.set(request.of, *pin); !set) return set.failure();
  return *pin;
}

}  // namespace loadlight::app
