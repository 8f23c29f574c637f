#include "printing/ipp_words.h"

#include <algorithm>
#include <iterator>

namespace loadlight::printing {
namespace {

using port::JobState;
using port::PrinterActivity;
using port::TroubleKind;

constexpr std::size_t kLongestKeyword = 100;

bool cut_end(std::string_view& text, std::string_view end) {
  if (!text.ends_with(end)) return false;
  text.remove_suffix(end.size());
  return true;
}

// Keywords that say the same.
TroubleKind kind_of(std::string_view keyword) {
  if (keyword == "moving-to-paused") return TroubleKind::Paused;
  if (keyword == "stopped-partly") return TroubleKind::Stopping;
  return core::parse<TroubleKind>(keyword).value_or(TroubleKind::Other);
}

// Whether it still prints. A label printer has one roll: without it nothing is printed, whatever weight its maker
// gives that; what runs low has not run out.
bool is_mild(TroubleKind kind, bool warning) {
  constexpr TroubleKind kHinders[] = {TroubleKind::MediaEmpty, TroubleKind::MediaNeeded, TroubleKind::MediaJam};
  constexpr TroubleKind kMild[] = {TroubleKind::MediaLow, TroubleKind::MarkerSupplyLow, TroubleKind::TonerLow};
  if (std::find(std::begin(kHinders), std::end(kHinders), kind) != std::end(kHinders)) return false;
  return warning || std::find(std::begin(kMild), std::end(kMild), kind) != std::end(kMild);
}

}  // namespace

std::optional<port::PrinterTrouble> trouble_of(std::string_view reason) {
  std::string_view keyword = reason;
  if (keyword.empty() || keyword == "none" || cut_end(keyword, "-report")) return std::nullopt;
  const bool warning = cut_end(keyword, "-warning");
  if (!warning) cut_end(keyword, "-error");
  const TroubleKind kind = kind_of(keyword);
  return port::PrinterTrouble{kind, std::string{keyword.substr(0, kLongestKeyword)}, is_mild(kind, warning)};
}

PrinterActivity activity_of(int printer_state) {
  switch (printer_state) {
    case 3:
      return PrinterActivity::Idle;
    case 4:
      return PrinterActivity::Printing;
    default:
      return PrinterActivity::Stopped;
  }
}

JobState job_state_of(int job_state) {
  switch (job_state) {
    case 4:
      return JobState::Held;
    case 5:
      return JobState::Printing;
    case 6:
      return JobState::Stopped;
    case 7:
      return JobState::Cancelled;
    case 8:
      return JobState::Aborted;
    case 9:
      return JobState::Done;
    default:
      return JobState::Waiting;
  }
}

}  // namespace loadlight::printing
