// Use cases: operators show who they are at the station, by PIN or by badge, and PINs are given out.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/port/pin_book.h"

namespace loadlight::app {

// PinWrong (also for an operator there is none of; detail seconds, when the next try must wait), PinWait,
// PinLocked, PinMissing, OperatorNotCurrent.
core::Result<core::Operator> sign_in_by_pin(const Ports& ports, port::PinBook& pins,
                                            std::string_view operator_code, std::string_view pin);

// `text` is a badge's symbol as it was read: BadgeNotAuthentic, OperatorUnknown, OperatorNotCurrent.
core::Result<core::Operator> sign_in_by_badge(const Ports& ports, std::string_view text);

// Who is signed in, as the record has it now: OperatorUnknown, OperatorNotCurrent.
core::Result<core::Operator> signed_in_operator(const Ports& ports, std::string_view operator_code);

// How long a browser that nobody touches may act for whoever signed in there: the profile's, and the shortest there
// is when that cannot be read.
std::chrono::minutes idle_lock(const Ports& ports);

// PinTooWeak unless somebody may choose this PIN.
core::Result<void> check_chosen_pin(std::string_view pin);

struct PinRequest final {
  std::string operator_code;  // who gives it: a lead, or for his own PIN anyone
  std::string of;             // whose PIN it is to be
  std::string pin;            // empty: six digits at random are issued; else chosen, eight or more characters
};
// The PIN, which is kept nowhere. LeadRequired, PinTooWeak; the record keeps who gave whom a PIN, not the PIN.
core::Result<std::string> set_pin(const Ports& ports, port::PinBook& pins, const PinRequest& request);

}  // namespace loadlight::app
