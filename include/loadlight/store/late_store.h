// A record that may be out of reach: it is opened when it is first asked for something and can be, and is left alone for
// a moment after each time that it could not be reached, so that nobody waits for it twice.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <optional>

#include "loadlight/core/result.h"
#include "loadlight/port/store.h"

namespace loadlight::store {

// And twice as long as the try took: a line that is silent is told from one that is slow by waiting.
inline constexpr std::chrono::milliseconds kLeftAlone{1000};

struct LateStoreOptions final {
  std::function<core::Result<std::unique_ptr<port::Store>>()> open;
  std::unique_ptr<port::Store> opened{};   // where it is already
  std::optional<core::Failure> failed{};  // how it was out of reach just now,
  std::chrono::steady_clock::duration failed_after{};  // and how long that took to find out
  std::function<std::chrono::steady_clock::time_point()> now = std::chrono::steady_clock::now;
};

// Until then every function fails as opening it did. As thread-safe as what is opened.
std::unique_ptr<port::Store> make_late_store(LateStoreOptions options);

}  // namespace loadlight::store
