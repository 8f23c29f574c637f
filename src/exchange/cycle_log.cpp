#include "loadlight/exchange/cycle_log.h"

#include <algorithm>

#include "csv_encoding.h"
#include "log_clock.h"
#include "log_columns.h"
#include "log_doubts.h"
#include "log_errors.h"
#include "log_line.h"

namespace loadlight::exchange {

struct CycleLogReader::State final {
  State(LogMapping m, Sink s)
      : mapping(std::move(m)), sink(std::move(s)), columns(mapping), clock(mapping), doubts(mapping) {}

  void take_line(std::string_view line);
  bool is_left_out(std::string_view line) const;
  bool is_text(std::string_view line);
  void take_cells(const LogCells& cells);
  void take_row(const LogRow& row);
  void take_sample(const LogRow& row, LogStep step);
  void take_repeated(const LogRow& row);
  void finish_last_line();

  LogMapping mapping;
  Sink sink;
  LineCutter cutter;
  LogColumns columns;
  LogClock clock;
  LogDoubts doubts;
  LogErrors errors;
  LogSummary summary;
  bool columns_found = false;
  bool only_checking = false;  // a last line without its end is read but not taken
  core::CycleSample last;
};

void CycleLogReader::State::take_line(std::string_view line) {
  if (errors.stopped()) return;
  ++summary.lines;
  if (summary.lines == 1) line = without_mark(line);
  if (line.size() > kLongestLine) {
    return errors.add("cycle-log.line-long", summary.lines, {{"limit", std::to_string(kLongestLine)}});
  }
  if (!is_text(line)) return;
  if (is_left_out(line)) {
    ++summary.lines_left_out;
    return;
  }
  take_cells(cut_cells(line, mapping.separator));
}

bool CycleLogReader::State::is_left_out(std::string_view line) const {
  const bool marked = std::any_of(mapping.ignored_starts.begin(), mapping.ignored_starts.end(),
                                  [line](const std::string& start) { return line.starts_with(start); });
  return summary.lines <= static_cast<std::size_t>(mapping.skipped_lines) || marked ||
         line.find_first_not_of(" \t") == std::string_view::npos;
}

bool CycleLogReader::State::is_text(std::string_view line) {
  if (is_plain_ascii(line)) return true;
  auto failure = encoding_failure(line);
  if (failure && failure->details[1].second == "not-utf-8" && mapping.encoding == LogEncoding::Latin1) {
    if (line.find('\0') == std::string_view::npos) return true;
    failure->details[1].second = "nul";
  }
  if (!failure) return true;
  failure->details[0].second = std::to_string(summary.lines);
  errors.stop(*failure);
  return false;
}

void CycleLogReader::State::take_cells(const LogCells& cells) {
  if (!cells.problem.empty()) return errors.add(cells.problem, summary.lines);
  if (!columns_found) {
    columns_found = true;
    columns.find(cells, summary.lines, errors);
    // Without its columns no row could be told right from wrong.
    if (errors.any()) return errors.stop(errors.failure());
    if (mapping.header == LogHeader::Yes) return;
  }
  if (const auto row = columns.read(cells, summary.lines, errors)) take_row(*row);
}

void CycleLogReader::State::take_row(const LogRow& row) {
  if (only_checking) {
    summary.last_line_left_out = true;
    return;
  }
  if (!row.celsius) {
    ++summary.without_temperature;
    return;
  }
  switch (const LogStep step = clock.take(row.time)) {
    case LogStep::First:
    case LogStep::Forward:
    case LogStep::Midnight:
    case LogStep::ClockChange:
      return take_sample(row, step);
    case LogStep::Same:
      return take_repeated(row);
    case LogStep::Back:
      return errors.add("cycle-log.time-back", summary.lines,
                        {{"given", shown(row.time_cell)}, {"before", shown(summary.last_time)}});
  }
}

void CycleLogReader::State::take_sample(const LogRow& row, LogStep step) {
  last = {clock.seconds(), *row.celsius, row.kpa_abs};
  if (step == LogStep::First) summary.first_time = shown(row.time_cell);
  if (step == LogStep::Midnight) ++summary.midnights;
  if (step == LogStep::ClockChange) summary.clock_change_line = summary.lines;
  summary.last_time.assign(row.time_cell.substr(0, 40));
  doubts.add(last);
  if (errors.any()) return;
  ++summary.samples;
  sink(last);
}

void CycleLogReader::State::take_repeated(const LogRow& row) {
  if (*row.celsius == last.celsius && row.kpa_abs == last.kpa_abs) {
    ++summary.repeated;
  } else {
    errors.add("cycle-log.time-twice", summary.lines, {{"given", shown(row.time_cell)}});
  }
}

void CycleLogReader::State::finish_last_line() {
  const std::string line{cutter.unended()};
  if (line.empty() || errors.stopped()) return;
  const LogErrors before = errors;
  only_checking = true;
  take_line(line);
  const bool whole = errors.count() == before.count() && !errors.stopped();
  if (!whole && !errors.stopped()) {
    errors = before;
    errors.add("cycle-log.cut-off", summary.lines);
  }
}

CycleLogReader::CycleLogReader(LogMapping mapping, Sink sink)
    : state_(std::make_unique<State>(std::move(mapping), std::move(sink))) {}
CycleLogReader::CycleLogReader(CycleLogReader&&) noexcept = default;
CycleLogReader& CycleLogReader::operator=(CycleLogReader&&) noexcept = default;
CycleLogReader::~CycleLogReader() = default;

void CycleLogReader::feed(std::string_view bytes) {
  state_->cutter.feed(bytes, [this](std::string_view line) { state_->take_line(line); });
}

core::Result<LogSummary> CycleLogReader::finish() {
  State& s = *state_;
  s.finish_last_line();
  if (!s.errors.any()) s.doubts.tell(s.errors);
  if (s.errors.any()) return s.errors.failure();
  return s.summary;
}

}  // namespace loadlight::exchange
