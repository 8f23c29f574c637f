#include "loadlight/core/clock_doubt.h"

#include <algorithm>
#include <charconv>

namespace loadlight::core {
namespace {

std::optional<std::int64_t> parse_count(std::string_view text) {
  std::int64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || value < 0) return std::nullopt;
  return value;
}

}  // namespace

std::string to_text(const ClockDoubt& doubt) {
  return std::to_string(doubt.from) + " " + std::to_string(doubt.by.count());
}

std::optional<ClockDoubt> parse_clock_doubt(std::string_view text) {
  const auto blank = text.find(' ');
  if (blank == std::string_view::npos) return std::nullopt;
  const auto from = parse_count(text.substr(0, blank));
  const auto by = parse_count(text.substr(blank + 1));
  if (!from || !by) return std::nullopt;
  return ClockDoubt{*from, Milliseconds{*by}};
}

Milliseconds doubt_at(const std::vector<ClockDoubt>& doubts, std::int64_t sequence) {
  Milliseconds longest{0};
  for (const ClockDoubt& doubt : doubts) {
    if (doubt.from <= sequence) longest = std::max(longest, doubt.by);
  }
  return longest;
}

void ClockLeaps::begin(std::int64_t sequence, Instant at, Instant not_before) {
  first_ = sequence;
  not_before_ = std::min(not_before, at);
  newest_ = at;
  gaps_.clear();
}

void ClockLeaps::take(std::int64_t sequence, Instant at, bool corrects_clock) {
  if (corrects_clock) return begin(sequence, at, at);
  if (first_ == 0) return begin(sequence, at, kProgramMade);
  const Milliseconds gap = at - newest_;
  if (gap > (gaps_.empty() ? Milliseconds{0} : gaps_.back().by)) gaps_.push_back({sequence, gap});
  newest_ = std::max(newest_, at);
}

std::vector<ClockDoubt> ClockLeaps::when_put_right(Instant now, Minutes tolerance) const {
  const Milliseconds ahead = newest_ - now;
  if (first_ == 0 || ahead <= tolerance) return {};
  const auto most = [&](Milliseconds gap) { return std::min<Milliseconds>(gap + tolerance, ahead + kNoticedWithin); };
  std::vector<ClockDoubt> doubts;
  for (const ClockDoubt& gap : gaps_) {
    if (gap.by >= ahead - 2 * tolerance) doubts.push_back({gap.from, most(gap.by)});
  }
  if (doubts.empty()) doubts.push_back({first_, most(newest_ - not_before_)});
  return doubts;
}

}  // namespace loadlight::core
