#include "loadlight/app/keep_copy.h"

#include <algorithm>

#include "app/rules_in_force.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Result;

constexpr std::chrono::seconds kLongestInterval{30};

// What speaks against no package. Any kind that is not here makes a copy worth nothing.
constexpr EventKind kHarmless[] = {
    EventKind::PackageChecked,   EventKind::LabelsPrinted,     EventKind::LabelsReprinted, EventKind::LoadOpened,
    EventKind::PackagesAdded,    EventKind::LoadStarted,       EventKind::ReadingsRecorded, EventKind::LoadReleased,
    EventKind::PackagesShelved,  EventKind::AuditBegun,        EventKind::PackagesSeen,    EventKind::AuditEnded,
    EventKind::BiologicalPlaced, EventKind::PinSet,            EventKind::StationInvited,  EventKind::CheckpointMade,
    EventKind::RecordBackedUp,   EventKind::RecordExported,    EventKind::KeyAdded,
};

Result<int> allowed_minutes(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (*unit)->office();
  if (!office) return office.failure();
  const auto profile = profile_in_force(**unit, *office);
  if (!profile) return profile.failure();
  return profile->local_copy_minutes;
}

}  // namespace

Result<CopyReply> take_copy(const Ports& ports, const std::function<bool()>& goes_on) {
  if (!ports.copy) return core::Failure{core::FailureCode::NoLocalCopy, {}, {}};
  const auto minutes = allowed_minutes(ports);
  if (!minutes) return minutes.failure();
  const auto done = *minutes > 0 ? ports.copy->take(ports.clock.now(), goes_on) : ports.copy->drop();
  if (!done) return done.failure();
  return CopyReply{*minutes, *minutes > 0 ? ports.copy->taken() : std::nullopt};
}

std::chrono::seconds copy_interval(int minutes) {
  return std::min(kLongestInterval, std::chrono::seconds{minutes * 60 / 4});
}

bool leaves_copies_right(const std::vector<EventKind>& written) {
  return std::all_of(written.begin(), written.end(), [](EventKind kind) {
    return std::find(std::begin(kHarmless), std::end(kHarmless), kind) != std::end(kHarmless);
  });
}

}  // namespace loadlight::app
