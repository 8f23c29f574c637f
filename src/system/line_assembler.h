// Lines out of bytes that arrive in any pieces. Pure: it reads nothing itself.
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <string_view>

#include "loadlight/port/line_source.h"

namespace loadlight::system {

class LineAssembler final {
 public:
  // Holds at most one unfinished line of port::kLongestLine bytes and the lines these bytes end.
  void feed(std::string_view bytes);
  // The input ended: what there is of an unfinished line is a line.
  void finish();
  // The oldest whole line (Line or OverlongLine), once.
  std::optional<port::LineRead> take();

 private:
  void add(char c);
  void end_line();

  std::deque<port::LineRead> whole_;
  std::string unfinished_;
  bool overlong_ = false;  // bytes of the unfinished line were dropped
  bool after_cr_ = false;  // an LF now belongs to the CR that ended the last line
};

}  // namespace loadlight::system
