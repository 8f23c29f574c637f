#include "loadlight/system/clock.h"

namespace loadlight::system {
namespace {

class SystemClock final : public port::Clock {
 public:
  core::Instant now() const override {
    return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
  }
};

}  // namespace

std::unique_ptr<port::Clock> make_system_clock() {
  return std::make_unique<SystemClock>();
}

}  // namespace loadlight::system
