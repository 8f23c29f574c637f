// PINs that were just issued, until whoever they are for has written them down. They are kept nowhere else.
#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <optional>
#include <string>

namespace loadlight::web {

struct IssuedPin final {
  std::string operator_code;
  std::string operator_name;
  std::string pin;
  std::string next;  // the path to go on to
  std::string done;  // and what is said there
};

class IssuedPins final {
 public:
  using Time = std::chrono::steady_clock::time_point;
  static constexpr std::chrono::minutes kShown{5};

  // For the browser of that cookie, in place of one before.
  void keep(const std::string& cookie, IssuedPin pin, Time now);
  std::optional<IssuedPin> find(const std::string& cookie, Time now);
  void forget(const std::string& cookie);

 private:
  std::mutex mutex_;
  std::map<std::string, std::pair<IssuedPin, Time>> pins_;
};

}  // namespace loadlight::web
