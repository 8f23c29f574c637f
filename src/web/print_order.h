// What the pack page's form says, as the use cases take it.
#pragma once

#include "loadlight/app/print_labels.h"
#include "web/http_message.h"

namespace loadlight::web {

// BadValue for a number that is none, BadLoadName. Empty fields of the paper stay open: settled by the office's
// stock.
core::Result<app::Paper> paper_of(const Fields& fields);
core::Result<app::PrintRequest> print_order(const Fields& fields, const std::string& operator_code);

// A whole number in decimal digits, nothing around it.
std::optional<int> whole_number(std::string_view text);

}  // namespace loadlight::web
