// Use cases of who leads a group of offices: each office is looked at by its own use cases, one after the other. One
// that cannot be read is told of, and the others are still answered.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/app/recall_lot.h"
#include "loadlight/core/due.h"
#include "loadlight/port/zone.h"

namespace loadlight::app {

struct Group final {
  std::vector<std::string> offices;  // by name
  std::function<core::Result<std::unique_ptr<port::Store>>(const std::string& office)> open_store;
  std::function<core::Result<std::unique_ptr<port::Zone>>(const std::string& zone)> open_zone;
  const port::Clock& clock;
};

struct OfficeFailure final {
  std::string office;
  core::Failure failure;
};
using OfficeFailures = std::vector<OfficeFailure>;

// `visit` sees each office's answer as soon as it is whole; what failed is handed back, by office.
OfficeFailures due_in_group(const Group& group,
                            const std::function<void(const std::string& office, const std::vector<core::DueItem>&)>& visit);
// Open ones, by number.
OfficeFailures incidents_in_group(
    const Group& group, const std::function<void(const std::string& office, const std::vector<core::Incident>&)>& visit);

enum class GroupLoads { Failed, Undecided };  // failed or aborted; running, finished or quarantined
// By sterilizer and number.
OfficeFailures loads_in_group(const Group& group, GroupLoads which,
                              const std::function<void(const std::string& office, const std::vector<core::Load>&)>& visit);

struct LotInOffice final {
  core::Consumable lot;
  bool recalled = false;
};
// In use or recalled, by lot.
OfficeFailures consumables_in_group(
    const Group& group, const std::function<void(const std::string& office, const std::vector<LotInOffice>&)>& visit);

// An office is whole or untouched; said again after it was cut off, it goes on with those that are left.
OfficeFailures recall_lot_in_group(const Group& group, const RecallLotRequest& request,
                                   const std::function<void(const std::string& office, const LotRecall&)>& visit);

}  // namespace loadlight::app
