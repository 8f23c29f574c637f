#include "loadlight/store/late_store.h"

#include <mutex>
#include <optional>
#include <utility>

namespace loadlight::store {
namespace {

using core::Failure;
using core::Result;
using Moment = std::chrono::steady_clock::time_point;

class LateStore final : public port::Store {
 public:
  explicit LateStore(LateStoreOptions options)
      : options_(std::move(options)),
        store_(std::move(options_.opened)),
        failed_(std::move(options_.failed)),
        asked_again_(options_.now() + kLeftAlone + 2 * options_.failed_after) {}

  Result<std::unique_ptr<port::Unit>> begin(port::Access access) override {
    const auto store = reached();
    if (!store) return store.failure();
    const Moment begun = options_.now();
    auto unit = (*store)->begin(access);
    if (!unit) note(unit.failure(), begun);
    return unit;
  }

  Result<void> each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) override {
    const auto store = reached();
    return store ? (*store)->each_entry(visit) : store.failure();
  }

  Result<std::vector<port::Alteration>> verify(
      const std::function<bool(const port::VerifyProgress&)>& goes_on) override {
    const auto store = reached();
    if (!store) return store.failure();
    return (*store)->verify(goes_on);
  }

 private:
  Result<port::Store*> reached();
  void note(const Failure& failure, Moment begun);
  void leave_alone(const Failure& failure, Moment begun);

  LateStoreOptions options_;
  std::mutex mutex_;
  std::unique_ptr<port::Store> store_;  // stays once it is there
  std::optional<Failure> failed_;       // when it was asked last
  Moment asked_again_;                  // not before
};

// Whoever asks while another opens it waits for that.
Result<port::Store*> LateStore::reached() {
  const std::lock_guard lock{mutex_};
  if (failed_ && options_.now() < asked_again_) return *failed_;
  failed_.reset();
  if (store_) return store_.get();
  const Moment begun = options_.now();
  auto opened = options_.open();
  if (opened) {
    store_ = std::move(*opened);
    return store_.get();
  }
  leave_alone(opened.failure(), begun);
  return *failed_;
}

void LateStore::leave_alone(const Failure& failure, Moment begun) {
  const Moment now = options_.now();
  failed_ = failure;
  asked_again_ = now + kLeftAlone + 2 * (now - begun);
}

void LateStore::note(const Failure& failure, Moment begun) {
  if (failure.code != core::FailureCode::OfficeUnreadable) return;
  const std::lock_guard lock{mutex_};
  leave_alone(failure, begun);
}

}  // namespace

std::unique_ptr<port::Store> make_late_store(LateStoreOptions options) {
  return std::make_unique<LateStore>(std::move(options));
}

}  // namespace loadlight::store
