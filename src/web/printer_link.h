// The label printers, as pages speak to them: the part that speaks IPP, loaded once, and the jobs it was given.
#pragma once

#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>

#include "loadlight/app/send_labels.h"
#include "loadlight/app/world.h"

namespace loadlight::web {

// What became of labels that were sent.
struct SentJob final {
  std::string printer;
  int run = 0;
  std::string paper;                     // what HeldPapers keeps them under
  std::optional<int> number;             // at the printer
  std::optional<core::Failure> trouble;  // without a number: why the printer did not take them
};

// Thread-safe. Of jobs the oldest go first.
class PrinterLink final {
 public:
  static constexpr std::size_t kMostJobs = 200;

  // PartUnavailable.
  core::Result<const port::Printers*> open(const app::World& world);
  // What it is to be asked for by.
  std::string keep(SentJob job);
  std::optional<SentJob> find(std::string_view key);
  // Takes the place of what is kept under `key`.
  void settle(std::string_view key, const SentJob& job);

 private:
  std::mutex mutex_;
  std::unique_ptr<port::Printers> printers_;
  std::deque<std::pair<std::string, SentJob>> jobs_;  // oldest first
};

}  // namespace loadlight::web
