// ISO/IEC 7064 MOD 37,36: one check character over [0-9A-Z], which finds every single substitution and
// nearly every transposition of two neighbours. It finds slips, not forgery.
#pragma once

#include <optional>
#include <string_view>

namespace loadlight::core {

// The check character of `text`; nothing if a character is outside [0-9A-Z].
std::optional<char> check_character(std::string_view text);

// True iff the last character of `text` is the check character of all before it.
bool check_character_fits(std::string_view text);

}  // namespace loadlight::core
