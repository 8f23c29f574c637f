// Reads a sterilizer's cycle log, in whatever chunks its bytes come, and hands on its samples one by one.
// Memory does not grow with the log. Samples that were handed on count for nothing unless finish()
// succeeds: what speaks against a log may stand in its last line.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "loadlight/core/cycle.h"
#include "loadlight/core/result.h"
#include "loadlight/exchange/log_mapping.h"

namespace loadlight::exchange {

// A log of fewer rows, or with more seconds between most of them, states only ends of phases: it is refused
// as a log and can be entered as readings. (Choices of ours.)
inline constexpr std::size_t kFewestLogRows = 20;
inline constexpr double kLongestLogInterval = 60;

// What was taken from a log, and what a reader should be told about it.
struct LogSummary final {
  std::size_t lines = 0;                // all of them
  std::size_t samples = 0;              // handed on
  std::size_t lines_left_out = 0;       // before the header, empty, or marked to be ignored
  std::size_t repeated = 0;             // rows that repeat the row before, time and values: dropped
  std::size_t without_temperature = 0;  // rows whose temperature is empty: dropped, and so a gap
  std::size_t midnights = 0;
  std::size_t clock_change_line = 0;  // a local clock jumped by an hour before this line; 0: it did not
  bool last_line_left_out = false;    // whole, but without its line end: it may be cut off within a number
  std::string first_time, last_time;  // of the first and the last sample, as written
};

class CycleLogReader final {
 public:
  using Sink = std::function<void(const core::CycleSample&)>;
  // Samples are finite, their times rise strictly, temperatures lie within -90 to 400 C, pressures are
  // absolute, over 0 and at most 100,000 kPa.
  CycleLogReader(LogMapping mapping, Sink sink);
  CycleLogReader(CycleLogReader&&) noexcept;
  CycleLogReader& operator=(CycleLogReader&&) noexcept;
  ~CycleLogReader();

  void feed(std::string_view bytes);
  // BadEncoding (details: line; why: utf-16, nul or not-utf-8); BadCsv (detail: count; items: "csv.…" and
  // "cycle-log.…", those about a line with their line, in order, at most kMostErrors).
  core::Result<LogSummary> finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace loadlight::exchange
