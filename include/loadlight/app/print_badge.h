// Use case: an operator's badge, which signs in at the station when it is scanned. Nothing but a PDF comes of it.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/print_labels.h"

namespace loadlight::app {

struct BadgeRequest final {
  std::string operator_code;  // a lead, or for his own badge anyone
  std::string of;
  Paper paper;
};
// LeadRequired, OperatorUnknown, OperatorNotCurrent.
core::Result<std::vector<label::LayoutWarning>> print_badge(const Ports& ports, const PrintShop& shop,
                                                            const BadgeRequest& request);

}  // namespace loadlight::app
