// Reed-Solomon codes over GF(256) as QR symbols use them (ISO/IEC 18004:2015, 7.5.2): the field of the
// polynomial 0x11D, generators whose roots are the powers 0 to checks - 1 of the element 2.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace loadlight::vision {

struct Correction final {
  std::vector<int> changed;  // positions whose value was wrong, ascending; among the erasures too
  int errors = 0;            // of these, how many were not named as erasures
};

// Corrects `codeword` (data first, then `checks` check values; at most 255 together) in place, as long as
// 2 * errors + erasures <= checks. `erasures` are distinct positions whose values are not to be trusted.
// Nothing, and the codeword as it was, when no codeword of the code is within reach.
std::optional<Correction> correct(std::span<std::uint8_t> codeword, int checks,
                                  std::span<const int> erasures);

}  // namespace loadlight::vision
