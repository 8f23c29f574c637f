#include "loadlight/app/cut_off.h"

#include "app/rules_in_force.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::Result;
using std::chrono::milliseconds;
using std::chrono::minutes;

// The age in minutes, rounded up; nothing for a copy that may not be judged by.
std::optional<int> allowed_age(const port::CopyView& copy, core::Instant now) {
  const auto office = copy.unit->office();
  if (!office) return std::nullopt;
  const auto profile = profile_in_force(*copy.unit, *office);
  if (!profile || profile->local_copy_minutes == 0) return std::nullopt;
  const milliseconds age = now - copy.taken;
  if (age < milliseconds{0} || age > minutes{profile->local_copy_minutes}) return std::nullopt;
  return static_cast<int>(std::chrono::ceil<minutes>(age).count());
}

struct Allowed final {
  port::CopyView copy;
  int minutes = 0;
};

std::optional<Allowed> allowed_copy(port::LocalCopy* copy, core::Instant now) {
  if (!copy) return std::nullopt;
  auto view = copy->open();
  if (!view) return std::nullopt;
  const auto age = allowed_age(*view, now);
  if (!age) return std::nullopt;
  return Allowed{std::move(*view), *age};
}

}  // namespace

bool is_out_of_reach(const Failure& failure) {
  return failure.code == core::FailureCode::OfficeUnreadable;
}

Result<StandIn> stand_in(const Ports& ports, const Failure& why) {
  if (!is_out_of_reach(why)) return why;
  auto allowed = allowed_copy(ports.copy, ports.clock.now());
  if (!allowed) return why;
  auto waiting = ports.copy->queued();
  if (!waiting) return why;
  const core::Instant taken = allowed->copy.taken;
  return StandIn{std::move(allowed->copy), {taken, allowed->minutes, ports.zone.local_text(taken)}, std::move(*waiting)};
}

Result<Reading> begin_reading(const Ports& ports) {
  auto own = ports.store.begin(port::Access::Read);
  if (own) return Reading{std::move(*own), std::nullopt};
  auto copy = stand_in(ports, own.failure());
  if (!copy) return copy.failure();
  return Reading{nullptr, std::move(*copy)};
}

Result<std::string> zone_name_of(port::Store& store, port::LocalCopy* copy, const port::Clock& clock) {
  const auto unit = store.begin(port::Access::Read);
  if (unit) {
    const auto office = (*unit)->office();
    if (!office) return office.failure();
    return office->zone;
  }
  if (!is_out_of_reach(unit.failure())) return unit.failure();
  const auto allowed = allowed_copy(copy, clock.now());
  if (!allowed) return unit.failure();
  const auto office = allowed->copy.unit->office();
  if (!office) return unit.failure();
  return office->zone;
}

}  // namespace loadlight::app
