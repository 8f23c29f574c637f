#include "web/issued_pins.h"

namespace loadlight::web {

void IssuedPins::keep(const std::string& cookie, IssuedPin pin, Time now) {
  const std::lock_guard lock{mutex_};
  pins_.insert_or_assign(cookie, std::pair{std::move(pin), now});
}

std::optional<IssuedPin> IssuedPins::find(const std::string& cookie, Time now) {
  const std::lock_guard lock{mutex_};
  std::erase_if(pins_, [now](const auto& each) { return now - each.second.second > kShown; });
  const auto found = pins_.find(cookie);
  if (found == pins_.end()) return std::nullopt;
  return found->second.first;
}

void IssuedPins::forget(const std::string& cookie) {
  const std::lock_guard lock{mutex_};
  pins_.erase(cookie);
}

}  // namespace loadlight::web
