#include "loadlight/app/group_view.h"

#include <algorithm>

#include "app/recalled_lots.h"
#include "loadlight/app/again.h"
#include "loadlight/app/list_due.h"

namespace loadlight::app {
namespace {

using core::LoadState;
using core::Result;

// Nobody who looks over the group prints a label or reads one.
class NoKeys final : public port::Keyring {
 public:
  std::string mac(std::string_view) const override { return {}; }
  bool verifies(std::string_view, std::string_view) const override { return false; }
  int current_key() const override { return 0; }
  void fill_random(std::span<std::uint8_t> out) const override { std::fill(out.begin(), out.end(), std::uint8_t{0}); }
};

Result<std::string> zone_of(port::Store& store) {
  const auto unit = store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (**unit).office();
  if (!office) return office.failure();
  return office->zone;
}

template <class Answer>
Result<Answer> ask(const Group& group, const std::string& office, const std::function<Result<Answer>(const Ports&)>& work) {
  const auto store = group.open_store(office);
  if (!store) return store.failure();
  const auto zone_name = zone_of(**store);
  if (!zone_name) return zone_name.failure();
  const auto zone = group.open_zone(*zone_name);
  if (!zone) return zone.failure();
  const NoKeys keys;
  const Ports ports{**store, group.clock, **zone, keys};
  return again_if_changed([&] { return work(ports); });
}

template <class Answer>
OfficeFailures ask_each(const Group& group, const std::function<Result<Answer>(const Ports&)>& work,
                        const std::function<void(const std::string&, const Answer&)>& visit) {
  OfficeFailures failures;
  for (const std::string& office : group.offices) {
    const auto answer = ask(group, office, work);
    if (answer) visit(office, *answer);
    if (!answer) failures.push_back({office, answer.failure()});
  }
  return failures;
}

Result<std::vector<core::Incident>> open_incidents(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  return (**unit).incidents().open_ones();
}

Result<std::vector<core::Load>> loads_in(const Ports& ports, const std::vector<LoadState>& states) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  std::vector<core::Load> loads;
  for (const LoadState state : states) {
    const auto found = (**unit).loads().in_state(state);
    if (!found) return found.failure();
    loads.insert(loads.end(), found->begin(), found->end());
  }
  std::sort(loads.begin(), loads.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
  return loads;
}

Result<std::vector<LotInOffice>> lots_in(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto all = (**unit).consumables().all();
  if (!all) return all.failure();
  std::vector<LotInOffice> lots;
  for (const core::Consumable& each : *all) {
    const auto since = recalled_at(**unit, each.lot);
    if (!since) return since.failure();
    if (*since || !each.retired_on) lots.push_back({each, since->has_value()});
  }
  return lots;
}

}  // namespace

OfficeFailures due_in_group(const Group& group,
                            const std::function<void(const std::string&, const std::vector<core::DueItem>&)>& visit) {
  return ask_each<std::vector<core::DueItem>>(group, list_due, visit);
}

OfficeFailures incidents_in_group(
    const Group& group, const std::function<void(const std::string&, const std::vector<core::Incident>&)>& visit) {
  return ask_each<std::vector<core::Incident>>(group, open_incidents, visit);
}

OfficeFailures loads_in_group(const Group& group, GroupLoads which,
                              const std::function<void(const std::string&, const std::vector<core::Load>&)>& visit) {
  const std::vector<LoadState> states =
      which == GroupLoads::Failed ? std::vector{LoadState::Failed, LoadState::Aborted}
                                  : std::vector{LoadState::Running, LoadState::Finished, LoadState::Quarantined};
  return ask_each<std::vector<core::Load>>(group, [&](const Ports& ports) { return loads_in(ports, states); }, visit);
}

OfficeFailures consumables_in_group(
    const Group& group, const std::function<void(const std::string&, const std::vector<LotInOffice>&)>& visit) {
  return ask_each<std::vector<LotInOffice>>(group, lots_in, visit);
}

OfficeFailures recall_lot_in_group(const Group& group, const RecallLotRequest& request,
                                   const std::function<void(const std::string&, const LotRecall&)>& visit) {
  return ask_each<LotRecall>(group, [&](const Ports& ports) { return recall_lot(ports, request); }, visit);
}

}  // namespace loadlight::app
