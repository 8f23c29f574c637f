// A verification of the ledger under way, and what the last one found.
#pragma once

#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "loadlight/app/open_office.h"
#include "loadlight/app/verify_ledger.h"

namespace loadlight::web {

// Thread-safe. One verification at a time; it ends with this.
class LedgerCheck final {
 public:
  struct State final {
    bool running = false;
    port::VerifyProgress progress;
    // Of the last one that came to its end, or to a failure; none since the station was started.
    std::optional<core::Instant> ended_at;
    std::optional<core::Failure> failure;
    app::LedgerVerdict verdict;
  };

  ~LedgerCheck();

  // Nothing when one is under way already.
  void begin(std::shared_ptr<app::OpenOffice> office, std::shared_ptr<port::CheckpointBook> book);
  void stop();
  State state() const;

 private:
  void run(const app::OpenOffice& office, const port::CheckpointBook& book, const std::stop_token& stopped);

  mutable std::mutex mutex_;
  State state_;
  std::jthread thread_;
};

}  // namespace loadlight::web
