// What the pages that check have in common: what is asked, and how a record that cannot be read is named.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/check_packages.h"
#include "web/visit.h"

namespace loadlight::web {

app::CheckRequest request_of(const Visit& visit, std::vector<app::CheckItem> items);
// What a hand scanner or a keyboard gave: a label's text, or an id typed by hand.
app::CheckItem item_of(std::string_view given);
core::RecordState state_of(const core::Failure& failure);
// Worst first, a blank between them.
std::string reason_codes(const core::Verdict& verdict);

}  // namespace loadlight::web
