#include "loadlight/store/late_store.h"

#include <mutex>
#include <optional>
#include <utility>

namespace loadlight::store {
namespace {

using core::Failure;
using core::Result;

class LateStore final : public port::Store {
 public:
  explicit LateStore(LateStoreOptions options)
      : options_(std::move(options)),
        store_(std::move(options_.opened)),
        failed_(std::move(options_.failed)),
        failed_at_(options_.now()) {}

  Result<std::unique_ptr<port::Unit>> begin(port::Access access) override {
    const auto store = reached();
    if (!store) return store.failure();
    auto unit = (*store)->begin(access);
    if (!unit) note(unit.failure());
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
  void note(const Failure& failure);

  LateStoreOptions options_;
  std::mutex mutex_;
  std::unique_ptr<port::Store> store_;  // stays once it is there
  std::optional<Failure> failed_;       // when it was asked last
  std::chrono::steady_clock::time_point failed_at_;
};

// Whoever asks while another opens it waits for that.
Result<port::Store*> LateStore::reached() {
  const std::lock_guard lock{mutex_};
  if (failed_ && options_.now() - failed_at_ < kLeftAlone) return *failed_;
  failed_.reset();
  if (store_) return store_.get();
  auto opened = options_.open();
  if (opened) {
    store_ = std::move(*opened);
    return store_.get();
  }
  failed_ = opened.failure();
  failed_at_ = options_.now();
  return *failed_;
}

void LateStore::note(const Failure& failure) {
  if (failure.code != core::FailureCode::OfficeUnreadable) return;
  const std::lock_guard lock{mutex_};
  failed_ = failure;
  failed_at_ = options_.now();
}

}  // namespace

std::unique_ptr<port::Store> make_late_store(LateStoreOptions options) {
  return std::make_unique<LateStore>(std::move(options));
}

}  // namespace loadlight::store
