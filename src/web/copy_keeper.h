// Keeps this station's own copy of a shared record new, and writes what was done while the record could not be reached
// as soon as it can be. In a thread of its own.
#pragma once

#include <chrono>
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

#include "loadlight/app/open_office.h"
#include "loadlight/app/queued_acts.h"

namespace loadlight::web {

class CopyKeeper final {
 public:
  using Office = std::function<core::Result<std::shared_ptr<app::OpenOffice>>()>;
  using Settled = std::function<void(const app::Ports& ports, const app::QueueReply& written)>;

  CopyKeeper(Office office, Settled settled);
  ~CopyKeeper();

 private:
  using Clock = std::chrono::steady_clock;

  void run();
  void look();
  bool write_what_waits(const app::Ports& ports);
  void take_copy(const app::Ports& ports);
  bool goes_on();

  Office office_;
  Settled settled_;
  int minutes_ = 0;  // as the profile said last
  Clock::time_point next_{};
  std::mutex mutex_;
  std::condition_variable ending_;
  bool ended_ = false;
  std::thread thread_;
};

}  // namespace loadlight::web
