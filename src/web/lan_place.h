// Where the office's other devices reach this station, and the authority they must know first.
#pragma once

#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace loadlight::web {

struct LanAddress final {
  std::vector<std::string> urls;  // "https://192.0.2.7:8425/", this machine's own last
  std::string authority;          // PEM
  std::string fingerprint;        // 64 hex digits
};

// Kept by the desk; empty while the station listens to this machine alone.
class LanPlace final {
 public:
  void set(LanAddress address) {
    const std::lock_guard lock{mutex_};
    address_ = std::move(address);
  }
  std::optional<LanAddress> get() const {
    const std::lock_guard lock{mutex_};
    return address_;
  }

 private:
  mutable std::mutex mutex_;
  std::optional<LanAddress> address_;
};

}  // namespace loadlight::web
