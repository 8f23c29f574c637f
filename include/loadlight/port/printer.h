// Port: label printers that are spoken to directly, by IPP. Implemented by printing.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::port {

// Where a printer is, as a person gave it: "ipp://…" or "ipps://…".
struct PrinterAddress final {
  std::string name;  // in failures
  std::string uri;
};

// What a printer says hinders it, by the keywords of IPP (RFC 8011, printer-state-reasons; the same in the
// registry of PWG 5100.9). Words: "printer.trouble.<text>".
enum class TroubleKind {
  MediaEmpty,
  MediaNeeded,
  MediaJam,
  MediaLow,
  CoverOpen,
  DoorOpen,
  InterlockOpen,
  InputTrayMissing,
  OutputAreaFull,
  MarkerSupplyEmpty,
  MarkerSupplyLow,
  TonerEmpty,
  TonerLow,
  Paused,
  Stopping,
  ShuttingDown,
  Offline,
  ConnectingToDevice,
  TimedOut,
  SpoolAreaFull,
  Other,  // a keyword of its maker's
};

struct PrinterTrouble final {
  TroubleKind kind = TroubleKind::Other;
  std::string keyword;    // as the printer gave it
  bool warning = false;   // it can still print
};

enum class PrinterActivity { Idle, Printing, Stopped };

struct PageSize final {
  double width = 0;  // millimetres
  double height = 0;
};

struct PrinterState final {
  PrinterActivity activity = PrinterActivity::Idle;
  bool takes_jobs = true;
  bool takes_pdf = true;
  bool takes_page = true;  // of the size that was asked about
  int waiting = 0;  // jobs
  std::vector<PrinterTrouble> troubles;
};

enum class JobState { Waiting, Held, Printing, Stopped, Cancelled, Aborted, Done };
constexpr bool has_ended(JobState state) {
  return state == JobState::Cancelled || state == JobState::Aborted || state == JobState::Done;
}

// A PDF whose pages are one label each, or one sheet of labels.
struct PrintJob final {
  std::string title;
  std::string pdf;
  PageSize page;
};

// Each call opens its own connection and returns within kPrinterPatienceSeconds, or twice that, whatever the other end does. They fail
// with PrinterUnavailable or PrinterRefused (details: printer, why). Thread-safe.
inline constexpr int kPrinterPatienceSeconds = 20;
class Printers {
 public:
  virtual ~Printers() = default;

  virtual core::Result<PrinterState> state(const PrinterAddress& printer,
                                           const std::optional<PageSize>& page = std::nullopt) const = 0;
  // The job's number at the printer.
  virtual core::Result<int> print(const PrinterAddress& printer, const PrintJob& job) const = 0;
  virtual core::Result<JobState> job(const PrinterAddress& printer, int number) const = 0;
  virtual core::Result<void> cancel(const PrinterAddress& printer, int number) const = 0;
};

}  // namespace loadlight::port

template <>
struct loadlight::core::Vocabulary<loadlight::port::TroubleKind> {
  using K = loadlight::port::TroubleKind;
  static constexpr Term<K> kTerms[] = {{K::MediaEmpty, "media-empty"},
                                       {K::MediaNeeded, "media-needed"},
                                       {K::MediaJam, "media-jam"},
                                       {K::MediaLow, "media-low"},
                                       {K::CoverOpen, "cover-open"},
                                       {K::DoorOpen, "door-open"},
                                       {K::InterlockOpen, "interlock-open"},
                                       {K::InputTrayMissing, "input-tray-missing"},
                                       {K::OutputAreaFull, "output-area-full"},
                                       {K::MarkerSupplyEmpty, "marker-supply-empty"},
                                       {K::MarkerSupplyLow, "marker-supply-low"},
                                       {K::TonerEmpty, "toner-empty"},
                                       {K::TonerLow, "toner-low"},
                                       {K::Paused, "paused"},
                                       {K::Stopping, "stopping"},
                                       {K::ShuttingDown, "shutdown"},
                                       {K::Offline, "offline"},
                                       {K::ConnectingToDevice, "connecting-to-device"},
                                       {K::TimedOut, "timed-out"},
                                       {K::SpoolAreaFull, "spool-area-full"},
                                       {K::Other, "other"}};
};
template <>
struct loadlight::core::Vocabulary<loadlight::port::PrinterActivity> {
  using A = loadlight::port::PrinterActivity;
  static constexpr Term<A> kTerms[] = {{A::Idle, "idle"}, {A::Printing, "printing"}, {A::Stopped, "stopped"}};
};
template <>
struct loadlight::core::Vocabulary<loadlight::port::JobState> {
  using J = loadlight::port::JobState;
  static constexpr Term<J> kTerms[] = {{J::Waiting, "waiting"},     {J::Held, "held"},
                                       {J::Printing, "printing"},   {J::Stopped, "stopped"},
                                       {J::Cancelled, "cancelled"}, {J::Aborted, "aborted"},
                                       {J::Done, "done"}};
};
