// Use case: the packages that a camera at the chair sees, frame by frame, each with a verdict that holds still.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/check_packages.h"
#include "loadlight/app/ports.h"

namespace loadlight::app {

// A worse verdict is shown at once, a better one or the first Clear only when two frames in a row agree on it.
// An old label seen once on a package stays held against it until the package has left the view. Each verdict
// that is shown is a check, written as such. Not thread-safe.
class PackageWatch final {
 public:
  using Time = std::chrono::steady_clock::time_point;
  static constexpr std::chrono::seconds kGoneAfter{3};  // unseen for longer, it has left the view

  // Of the request the operator and the templates are used.
  PackageWatch(const Ports& ports, CheckRequest request);

  // The symbols of one frame; the verdicts that are to be shown now, in their order.
  std::vector<CheckReply> see(const std::vector<CheckItem>& items, Time now);

 private:
  struct InView final {
    Time seen{};
    std::optional<core::Verdict> shown;
    std::optional<core::Verdict> last;  // of the frame before
    bool old_label = false;
    long frame = 0;  // in which it was seen last
  };

  void forget_gone(Time now);
  std::vector<CheckReply> judge(const CheckRequest& frame);
  bool is_to_be_shown(InView& package, const core::Verdict& verdict);

  Ports ports_;
  CheckRequest request_;
  std::map<std::string, InView> in_view_;  // by text
  long frame_ = 0;
};

}  // namespace loadlight::app
