// What is wrong with a log; beyond kMostErrors it is only counted.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/failure.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::exchange {

class LogErrors final {
 public:
  // `line` 0: about the log as a whole.
  void add(std::string_view key, std::size_t line, const core::Details& more = {}) {
    if (++count_ > kMostErrors) return;
    core::Details details;
    if (line > 0) details.emplace_back("line", std::to_string(line));
    details.insert(details.end(), more.begin(), more.end());
    items_.push_back({std::string{key}, details});
  }
  // Nothing after this can be read.
  void stop(core::Failure failure) {
    if (!stopped_) stopped_ = std::move(failure);
  }

  std::size_t count() const { return count_; }
  bool any() const { return count_ != 0 || stopped_; }
  bool stopped() const { return stopped_.has_value(); }
  core::Failure failure() const {
    if (stopped_) return *stopped_;
    return {core::FailureCode::BadCsv, {{"count", std::to_string(count_)}}, items_};
  }

 private:
  std::size_t count_ = 0;
  std::vector<core::Sentence> items_;
  std::optional<core::Failure> stopped_;
};

}  // namespace loadlight::exchange
