#include "loadlight/app/bring_queued.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

// Ids are drawn at random: one that is known is of this office. A check may have been of a label that nobody knows.
Result<bool> is_of_this_office(const Ports& ports, const std::vector<port::QueuedAct>& acts) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  bool any = acts.empty();
  for (const port::QueuedAct& act : acts) {
    const auto id = core::PackageId::parse_exact(act.subject);
    const auto package = id ? (*unit)->packages().find(*id) : Result<std::optional<core::Package>>{std::nullopt};
    if (!package) return package.failure();
    if (!*package && act.kind == core::EventKind::PackageOpened) return false;
    any = any || *package;
  }
  return any;
}

}  // namespace

Result<QueueReply> bring_queued(const World& world, const Ports& ports, const std::string& left) {
  const auto beside = world.group.copy_beside(left);
  if (!beside) return beside.failure();
  const auto waiting = (*beside)->queued();
  if (!waiting) return waiting.failure();
  const auto known = is_of_this_office(ports, *waiting);
  if (!known) return known.failure();
  if (!*known) return Failure{FailureCode::RecordsDiffer, {{"path", left}}, {}};
  return write_queued({ports.store, ports.clock, ports.zone, ports.keyring, beside->get()});
}

}  // namespace loadlight::app
