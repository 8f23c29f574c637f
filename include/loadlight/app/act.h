// An act: one person's change of the record. Every use case that writes begins here, so that the operator,
// the time and the day are settled once and in one way.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct Act final {
  std::unique_ptr<port::Unit> unit;
  core::Office office;
  core::Operator who;
  core::Instant now{};
  core::CivilDate today;
  bool clock_behind = false;  // now is earlier than the newest event by more than the office tolerates

  // Writes one event of this act.
  core::Result<void> write(core::EventKind kind, std::string subject, std::vector<core::Record> records,
                           std::vector<std::pair<std::string, std::string>> details = {}) const;
};

// Begins a write. OperatorMissing for an empty code, OperatorUnknown, OperatorNotCurrent; or what the
// store says.
core::Result<Act> begin_act(const Ports& ports, std::string_view operator_code);

// True iff `now` lies further behind the newest event than the office tolerates, or before this program was made.
core::Result<bool> is_clock_behind(const port::Unit& unit, const core::Office& office, core::Instant now);

// May this person act today? Somebody whose first day was taken from a clock that stood ahead began by what the
// record knows: otherwise nobody might be left who can put it right.
core::Result<bool> works_here(const Ports& ports, const port::Unit& unit, const core::Operator& who);

// ClockBehindRecord while the clock is behind: for what takes its day from the clock, and keeps it.
core::Result<void> refuse_while_behind(const Act& act);

// LeadRequired unless this person leads.
core::Result<void> require_lead(const core::Operator& who);

}  // namespace loadlight::app
