// Forms that were sent, so that a second touch of a button does not do a thing twice.
#pragma once

#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "web/http_message.h"

namespace loadlight::web {

class OnceBook final {
 public:
  static constexpr std::size_t kMost = 500;

  // The response of an earlier sending of the same form; waits for one that is being answered. Nothing: it is
  // this one's to answer, and settle() must follow.
  std::optional<Response> begin(const std::string& form);
  // `response` is kept only when something was done; else the form may be sent again.
  void settle(const std::string& form, const Response& response);

 private:
  std::mutex mutex_;
  std::condition_variable settled_;
  std::map<std::string, std::optional<Response>> forms_;  // nothing: is being answered
  std::deque<std::string> order_;
};

}  // namespace loadlight::web
