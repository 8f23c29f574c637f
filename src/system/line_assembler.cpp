#include "line_assembler.h"

#include <utility>

namespace loadlight::system {

void LineAssembler::feed(std::string_view bytes) {
  for (char c : bytes) {
    const bool second_half = c == '\n' && after_cr_;
    after_cr_ = c == '\r';
    if (second_half) continue;
    if (c == '\r' || c == '\n') {
      end_line();
    } else {
      add(c);
    }
  }
}

void LineAssembler::finish() {
  if (!unfinished_.empty()) end_line();
}

std::optional<port::LineRead> LineAssembler::take() {
  if (whole_.empty()) return std::nullopt;
  port::LineRead oldest = std::move(whole_.front());
  whole_.pop_front();
  return oldest;
}

void LineAssembler::add(char c) {
  if (unfinished_.size() < port::kLongestLine) {
    unfinished_.push_back(c);
  } else {
    overlong_ = true;
  }
}

void LineAssembler::end_line() {
  if (std::exchange(overlong_, false)) {
    whole_.emplace_back(port::OverlongLine{std::exchange(unfinished_, {})});
  } else {
    whole_.emplace_back(port::Line{std::exchange(unfinished_, {})});
  }
}

}  // namespace loadlight::system
