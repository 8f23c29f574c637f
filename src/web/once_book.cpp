#include "web/once_book.h"

namespace loadlight::web {

std::optional<Response> OnceBook::begin(const std::string& form) {
  std::unique_lock lock{mutex_};
  while (true) {
    const auto found = forms_.find(form);
    if (found == forms_.end()) break;
    if (found->second) return found->second;
    settled_.wait(lock);
  }
  forms_.emplace(form, std::nullopt);
  return std::nullopt;
}

void OnceBook::settle(const std::string& form, const Response& response) {
  {
    const std::lock_guard lock{mutex_};
    if (response.status >= 400) {
      forms_.erase(form);
    } else {
      forms_[form] = response;
      order_.push_back(form);
    }
    if (order_.size() > kMost) {
      forms_.erase(order_.front());
      order_.pop_front();
    }
  }
  settled_.notify_all();
}

}  // namespace loadlight::web
