#include "app/clock_trust.h"

#include <algorithm>

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Result;

Result<std::vector<core::ClockDoubt>> doubts_of(const port::FoundEvent& correction) {
  std::vector<core::ClockDoubt> doubts;
  for (const auto& [name, text] : correction.details) {
    if (name != "doubt") continue;
    const auto doubt = core::parse_clock_doubt(text);
    if (!doubt) {
      return core::Failure{core::FailureCode::RecordDamaged,
                           {{"why", "ledger " + std::to_string(correction.sequence)}},
                           {}};
    }
    doubts.push_back(*doubt);
  }
  return doubts;
}

}  // namespace

Result<core::Milliseconds> doubt_about(const port::Unit& unit, const core::LoadName& load) {
  const auto corrections = unit.find_events({std::string{kClockSubject}, EventKind::ClockCorrected, {}});
  if (!corrections) return corrections.failure();
  if (corrections->empty()) return core::Milliseconds{0};
  const auto started = unit.find_events({load.text(), EventKind::LoadStarted, {}});
  if (!started) return started.failure();
  if (started->empty()) return core::Milliseconds{0};
  const std::int64_t at = started->front().sequence;
  const auto next = std::find_if(corrections->begin(), corrections->end(),
                                 [at](const port::FoundEvent& each) { return each.sequence > at; });
  if (next == corrections->end()) return core::Milliseconds{0};
  const auto doubts = doubts_of(*next);
  if (!doubts) return doubts.failure();
  return core::doubt_at(*doubts, at);
}

Result<std::vector<core::ClockDoubt>> doubts_when_accepted(port::Store& store, core::Instant now,
                                                           core::Minutes tolerance) {
  core::ClockLeaps leaps;
  const auto walked = store.each_entry([&leaps](const core::LedgerEntry& entry) {
    leaps.take(entry.sequence, entry.at, entry.kind == core::to_text(EventKind::ClockCorrected));
    return true;
  });
  if (!walked) return walked.failure();
  return leaps.when_put_right(now, tolerance);
}

Result<core::CivilDate> latest_day(const Ports& ports, const port::Unit& unit) {
  const auto newest = unit.newest_event();
  if (!newest) return newest.failure();
  const core::CivilDate today = ports.zone.local_date(ports.clock.now());
  return *newest ? std::max(today, ports.zone.local_date(**newest)) : today;
}

}  // namespace loadlight::app
