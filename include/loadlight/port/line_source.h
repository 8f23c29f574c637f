// Port: lines as a keyboard-wedge reader or a pipe sends them. Implemented by system.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <variant>

#include "loadlight/core/result.h"

namespace loadlight::port {

// The longest line that is passed on, in bytes, without its ending.
inline constexpr std::size_t kLongestLine = 4096;

// What waiting for a line came to. A line ends with CR, LF or CRLF, or with the end of the input.
struct Line final {
  std::string text;  // as sent, without its ending; may be empty, may hold any other byte
};
struct OverlongLine final {
  std::string beginning;  // its first kLongestLine bytes; the rest was read and dropped
};
struct EndOfLines final {};   // and every later call says the same
struct Interrupted final {};  // SIGINT or SIGTERM came; every later call says the same
struct TimedOut final {};     // the deadline passed; what was read of an unfinished line is kept
using LineRead = std::variant<EndOfLines, Line, OverlongLine, Interrupted, TimedOut>;

class LineSource {
 public:
  using Deadline = std::chrono::steady_clock::time_point;

  virtual ~LineSource() = default;

  // The next line, waiting until it is whole or `deadline` (none: for ever). A line that is there
  // already is given even when the deadline has passed. Fails with FileUnreadable when reading fails.
  // Not thread-safe.
  virtual core::Result<LineRead> next(std::optional<Deadline> deadline) = 0;
};

}  // namespace loadlight::port
