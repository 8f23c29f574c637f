#include "web/ledger_check.h"

#include <utility>

namespace loadlight::web {

LedgerCheck::~LedgerCheck() {
  thread_.request_stop();
}

void LedgerCheck::begin(std::shared_ptr<app::OpenOffice> office, std::shared_ptr<port::CheckpointBook> book) {
  const std::lock_guard lock{mutex_};
  if (state_.running) return;
  state_.running = true;
  state_.progress = {};
  // The one before has ended, so this assignment does not wait.
  thread_ = std::jthread{[this, office = std::move(office), book = std::move(book)](const std::stop_token& stopped) {
    run(*office, *book, stopped);
  }};
}

void LedgerCheck::stop() {
  const std::lock_guard lock{mutex_};
  thread_.request_stop();
}

LedgerCheck::State LedgerCheck::state() const {
  const std::lock_guard lock{mutex_};
  return state_;
}

void LedgerCheck::run(const app::OpenOffice& office, const port::CheckpointBook& book,
                      const std::stop_token& stopped) {
  app::VerifyRequest request;
  request.goes_on = [&](const port::VerifyProgress& progress) {
    const std::lock_guard lock{mutex_};
    state_.progress = progress;
    return !stopped.stop_requested();
  };
  auto found = app::verify_ledger(*office.leaves.store, book, request);
  const std::lock_guard lock{mutex_};
  state_.running = false;
  // One that was stopped found nothing out: what the one before found still stands.
  if (!found && found.failure().code == core::FailureCode::Stopped) return;
  state_.ended_at = office.ports.clock.now();
  state_.failure = found ? std::nullopt : std::optional{found.failure()};
  state_.verdict = found ? std::move(*found) : app::LedgerVerdict{};
}

}  // namespace loadlight::web
