// Port: this station's own copy of a record that it shares with others, for while the record cannot be reached, and
// what was done here meanwhile. Whether the copy may be judged by is for app to say (loadlight/app/cut_off.h).
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/events.h"
#include "loadlight/core/result.h"
#include "loadlight/port/store.h"

namespace loadlight::port {

// Something done while the record could not be reached, to be written into it later.
struct QueuedAct final {
  std::string id;  // its own, 32 of 0-9 and a-f
  core::EventKind kind = core::EventKind::PackageChecked;
  core::Instant at{};
  std::string operator_code;
  std::string subject;  // the package
  std::vector<std::pair<std::string, std::string>> details;
};

// The copy as it was taken; the unit reads.
struct CopyView final {
  std::unique_ptr<Store> store;
  std::unique_ptr<Unit> unit;
  core::Instant taken{};  // nothing that was written before is missing in it
};

// Thread-safe; other processes of this station may use the same copy. A copy is outdated once this station wrote what
// it lacks: until it is taken anew there is none.
class LocalCopy {
 public:
  virtual ~LocalCopy() = default;

  // OfficeAbsent when there is none that is whole; OfficeUnreadable while a server answers, for then it is the record
  // that keeps this station away; RecordDamaged, and what else its files say.
  virtual core::Result<CopyView> open() = 0;
  // When the copy that there is was taken.
  virtual std::optional<core::Instant> taken() const = 0;
  // Takes it anew: the record as it stands from `now` on. `goes_on` is asked every now and then, and stops it by saying
  // no: Stopped; the next goes on from there. OfficeBusy while another does; what the record says.
  virtual core::Result<void> take(core::Instant now, const std::function<bool()>& goes_on) = 0;
  // Leaves nothing of it; what waits stays.
  virtual core::Result<void> drop() = 0;

  // Durable once it returns. False, and nothing kept, when an opening of the same package waits already, or when
  // the copy is no longer the one that was taken at `taken`.
  virtual core::Result<bool> queue(const QueuedAct& act, core::Instant taken) = 0;
  // What waits, in the order in which it was queued. RecordDamaged.
  virtual core::Result<std::vector<QueuedAct>> queued() const = 0;
  // These are in the record, which the copy is not: it is outdated.
  virtual core::Result<void> settle(const std::vector<std::string>& ids) = 0;
};

}  // namespace loadlight::port
