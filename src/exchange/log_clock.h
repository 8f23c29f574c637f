// The times of a log's rows as seconds that only go forward, whatever clock they were written by.
#pragma once

#include <optional>
#include <string_view>

#include "loadlight/exchange/log_mapping.h"

namespace loadlight::exchange {

// A time cell as it is written: seconds since the log's beginning, the day's, or 1970's.
std::optional<double> parse_log_time(std::string_view time, std::string_view date, const LogMapping& mapping);

// What a row's time is to the row before it.
enum class LogStep { First, Forward, Midnight, ClockChange, Same, Back };

class LogClock final {
 public:
  explicit LogClock(const LogMapping& mapping) : mapping_(mapping) {}

  // Takes a parsed time in. After Same and Back the clock stands as it stood.
  LogStep take(double written);
  double seconds() const { return seconds_; }  // of the row taken last

 private:
  bool is_clock() const { return mapping_.time_form >= LogTimeForm::Clock; }
  std::optional<double> over_clock_change(double step) const;

  LogMapping mapping_;
  bool started_ = false;
  bool clock_changed_ = false;
  double written_ = 0;    // with the midnights since the start added
  double midnights_ = 0;  // seconds
  double seconds_ = 0;
};

}  // namespace loadlight::exchange
