#include "app/recalled_lots.h"

#include <set>

namespace loadlight::app {

using core::Result;

Result<std::optional<core::Instant>> recalled_at(const port::Unit& unit, const std::string& lot) {
  const auto events = unit.events_about(lot, core::EventKind::LotRecalled);
  if (!events) return events.failure();
  return events->empty() ? std::optional<core::Instant>{} : std::optional{events->front().at};
}

Result<std::vector<std::string>> recalled_among(const port::Unit& unit, const core::LoadFacts& evidence) {
  std::set<std::string> lots;
  for (const auto& each : evidence.indicators) lots.insert(each.lot);
  for (const auto& each : evidence.biological_runs) lots.insert({each.lot, each.control_lot});
  for (const auto& each : evidence.biologicals) lots.insert({each.lot, each.control_lot});
  std::vector<std::string> recalled;
  for (const std::string& lot : lots) {
    const auto since = recalled_at(unit, lot);
    if (!since) return since.failure();
    if (*since) recalled.push_back(lot);
  }
  return recalled;
}

Result<bool> reads_recalled_lot(const port::Unit& unit, const core::LoadName& load) {
  const auto indicators = unit.evidence().indicators_of(load);
  if (!indicators) return indicators.failure();
  core::LoadFacts evidence;
  evidence.indicators = *indicators;
  const auto recalled = recalled_among(unit, evidence);
  if (!recalled) return recalled.failure();
  return !recalled->empty();
}

}  // namespace loadlight::app
