#include "web/copy_keeper.h"

#include <utility>

#include "loadlight/app/keep_copy.h"

namespace loadlight::web {
namespace {

constexpr std::chrono::seconds kBetweenLooks{1};
constexpr std::chrono::seconds kBetweenAsking{10};  // whether the profile asks for a copy by now
constexpr std::chrono::seconds kAfterFailure{5};

}  // namespace

CopyKeeper::CopyKeeper(Office office, Settled settled)
    : office_(std::move(office)), settled_(std::move(settled)), thread_([this] { run(); }) {}

CopyKeeper::~CopyKeeper() {
  {
    const std::lock_guard lock{mutex_};
    ended_ = true;
  }
  ending_.notify_all();
  thread_.join();
}

bool CopyKeeper::goes_on() {
  const std::lock_guard lock{mutex_};
  return !ended_;
}

void CopyKeeper::run() {
  std::unique_lock lock{mutex_};
  while (!ending_.wait_for(lock, kBetweenLooks, [this] { return ended_; })) {
    lock.unlock();
    try {
      look();
    } catch (...) {  // as if the record were out of reach: the next look may find it
    }
    lock.lock();
  }
}

void CopyKeeper::look() {
  const auto office = office_();
  if (!office || !(*office)->ports.copy) return;
  const app::Ports& ports = (*office)->ports;
  if (!write_what_waits(ports)) return;
  const bool outdated = minutes_ > 0 && !ports.copy->taken();
  if (outdated || Clock::now() >= next_) take_copy(ports);
}

// False while something has to wait on.
bool CopyKeeper::write_what_waits(const app::Ports& ports) {
  const auto written = app::write_queued(ports);
  if (!written) return false;
  if (written->written > 0 && settled_) settled_(ports, *written);
  return true;
}

void CopyKeeper::take_copy(const app::Ports& ports) {
  const auto taken = app::take_copy(ports, [this] { return goes_on(); });
  if (taken) minutes_ = taken->minutes;
  const auto pause = !taken ? kAfterFailure : minutes_ > 0 ? app::copy_interval(minutes_) : kBetweenAsking;
  next_ = Clock::now() + pause;
}

}  // namespace loadlight::web
