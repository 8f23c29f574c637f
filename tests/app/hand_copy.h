// A line that is cut by hand, and a station's own copy in memory.
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/port/local_copy.h"
#include "store/memory_store.h"

namespace loadlight::tests {

// The office's record, or nothing while the line is cut.
class CutStore final : public port::Store {
 public:
  explicit CutStore(store::MemoryStore& record) : record_(record) {}

  core::Result<std::unique_ptr<port::Unit>> begin(port::Access access) override {
    if (cut) return why;
    return record_.begin(access);
  }
  core::Result<void> each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) override {
    return record_.each_entry(visit);
  }
  core::Result<std::vector<port::Alteration>> verify(
      const std::function<bool(const port::VerifyProgress&)>& goes_on) override {
    return record_.verify(goes_on);
  }

  bool cut = false;
  core::Failure why{core::FailureCode::OfficeUnreadable, {}, {}};

 private:
  store::MemoryStore& record_;
};

// What is queued is kept as the real one keeps it. While `full` is set, nothing can be.
class HandCopy final : public port::LocalCopy {
 public:
  explicit HandCopy(store::MemoryStore& record) : record_(record) {}

  core::Result<port::CopyView> open() override {
    if (!copy || !taken_at) return core::Failure{core::FailureCode::OfficeAbsent, {}, {}};
    auto unit = copy->begin(port::Access::Read);
    if (!unit) return unit.failure();
    return port::CopyView{nullptr, std::move(*unit), *taken_at};
  }
  std::optional<core::Instant> taken() const override { return taken_at; }
  core::Result<void> take(core::Instant now, const std::function<bool()>&) override {
    copy = std::make_unique<store::MemoryStore>(record_);
    taken_at = now;
    return {};
  }
  core::Result<void> drop() override {
    copy.reset();
    taken_at.reset();
    return {};
  }
  core::Result<bool> queue(const port::QueuedAct& act, core::Instant taken) override {
    if (full) return core::Failure{core::FailureCode::DiskFull, {}, {}};
    if (taken_at != taken) return false;
    for (const port::QueuedAct& each : waiting) {
      const bool same = each.subject == act.subject && each.kind == core::EventKind::PackageOpened;
      if (same && act.kind == core::EventKind::PackageOpened) return false;
    }
    waiting.push_back(act);
    return true;
  }
  core::Result<std::vector<port::QueuedAct>> queued() const override {
    if (unreadable) return core::Failure{core::FailureCode::RecordDamaged, {}, {}};
    return waiting;
  }
  core::Result<void> settle(const std::vector<std::string>& ids) override {
    if (killed_before_settling) return core::Failure{core::FailureCode::Stopped, {}, {}};
    taken_at.reset();
    std::erase_if(waiting, [&](const port::QueuedAct& act) { return std::find(ids.begin(), ids.end(), act.id) != ids.end(); });
    return {};
  }

  std::unique_ptr<store::MemoryStore> copy;
  std::optional<core::Instant> taken_at;
  std::vector<port::QueuedAct> waiting;
  bool full = false;
  bool unreadable = false;
  bool killed_before_settling = false;

 private:
  store::MemoryStore& record_;
};

}  // namespace loadlight::tests
