#pragma once

#include <string>
#include <string_view>

namespace loadlight::vision {

// The same text with U+FFFD for every byte that is not part of a well-formed sequence (RFC 3629: no
// overlong forms, no surrogates, nothing above U+10FFFF). Control characters stay.
std::string valid_utf8(std::string_view text);

}  // namespace loadlight::vision
