// Plain decimal numbers of a log's cells.
#pragma once

#include <optional>
#include <string_view>

namespace loadlight::exchange {

std::string_view without_spaces(std::string_view text);  // at both ends; tabs too

// [ "+" / "-" ] digits [ point digits ], at most 15 digits: nothing else, no exponent, no NaN.
std::optional<double> parse_decimal(std::string_view text, char point);

}  // namespace loadlight::exchange
