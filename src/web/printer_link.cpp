#include "web/printer_link.h"

#include "web/secrets.h"

namespace loadlight::web {

core::Result<const port::Printers*> PrinterLink::open(const app::World& world) {
  const std::lock_guard lock{mutex_};
  if (!printers_) {
    auto opened = world.open_printers();
    if (!opened) return opened.failure();
    printers_ = std::move(*opened);
  }
  return printers_.get();
}

std::string PrinterLink::keep(SentJob job) {
  const std::lock_guard lock{mutex_};
  jobs_.emplace_back(random_name(), std::move(job));
  if (jobs_.size() > kMostJobs) jobs_.pop_front();
  return jobs_.back().first;
}

std::optional<SentJob> PrinterLink::find(std::string_view key) {
  const std::lock_guard lock{mutex_};
  for (const auto& [name, job] : jobs_) {
    if (name == key) return job;
  }
  return std::nullopt;
}

void PrinterLink::settle(std::string_view key, const SentJob& job) {
  const std::lock_guard lock{mutex_};
  for (auto& [name, kept] : jobs_) {
    if (name == key) kept = job;
  }
}

}  // namespace loadlight::web
