// Whether a text may stand on a label.
#pragma once

#include <string_view>

namespace loadlight::label {

// True iff `text` is well-formed UTF-8 (RFC 3629) without control characters: neither C0 and C1 codes,
// nor line and paragraph separators, nor the codes that turn the direction of what follows (U+202A to
// U+202E, U+2066 to U+2069), which can make a text read as another.
bool is_label_text(std::string_view text);

}  // namespace loadlight::label
