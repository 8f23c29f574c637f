// Packages that are held before a camera or a hand scanner to go into a load, one by one.
#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::web {

struct ScanAnswer final {
  enum class How { Taken, Doubled, Refused };
  How how = How::Refused;
  std::optional<core::Package> package;  // none: it could not be told which it is
  core::Failure failure;                 // why it was refused
};

// Adds the package of this label (its text, or an id typed by hand); one that is in the load already is not
// added twice, and says so.
ScanAnswer add_scanned(const app::Ports& ports, const std::string& operator_code, const core::LoadName& load,
                       const std::string& text);

// A camera sees a label in many frames: it is added with the first, and is the same label until it was out of
// view for a while. Thread-safe.
class LoadScans final {
 public:
  using Time = std::chrono::steady_clock::time_point;
  static constexpr std::chrono::milliseconds kGoneAfter{2000};
  static constexpr std::size_t kMost = 2000;  // labels in view, of all cameras

  // What was answered for this label while it is in view.
  std::optional<ScanAnswer> in_view(const std::string& camera, const std::string& text, Time now);
  void keep(const std::string& camera, const std::string& text, ScanAnswer answer, Time now);

 private:
  struct Held final {
    ScanAnswer answer;
    Time seen{};
  };
  std::mutex mutex_;
  std::map<std::pair<std::string, std::string>, Held> held_;  // by camera and text
};

}  // namespace loadlight::web
