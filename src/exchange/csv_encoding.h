// What bytes a table may be made of.
#pragma once

#include <optional>
#include <string_view>

#include "loadlight/core/failure.h"

namespace loadlight::exchange {

// `text` without its UTF-8 byte order mark, if it has one.
std::string_view without_mark(std::string_view text);

// BadEncoding (details: line; why: utf-16, nul or not-utf-8) for the first byte that is not UTF-8 text.
std::optional<core::Failure> encoding_failure(std::string_view text);

}  // namespace loadlight::exchange
