#include "printing/ipp_words.h"

namespace loadlight::printing {
namespace {

using port::JobState;
using port::PrinterActivity;
using port::TroubleKind;

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

}  // namespace

std::optional<port::PrinterTrouble> trouble_of(std::string_view reason) {
  std::string_view keyword = reason;
  if (keyword.empty() || keyword == "none" || cut_end(keyword, "-report")) return std::nullopt;
  const bool warning = cut_end(keyword, "-warning");
  if (!warning) cut_end(keyword, "-error");
  const TroubleKind kind = kind_of(keyword);
  const bool mild = kind == TroubleKind::MediaLow || kind == TroubleKind::MarkerSupplyLow || kind == TroubleKind::TonerLow;
  return port::PrinterTrouble{kind, std::string{keyword.substr(0, 100)}, warning || mild};
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
