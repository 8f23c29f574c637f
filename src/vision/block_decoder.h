// Decodes one block of codewords, the doubtful ones as erasures.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "vision/qr_blocks.h"

namespace loadlight::vision {

struct DecodedBlock final {
  std::vector<std::uint8_t> codewords;  // data first, corrected
  int erased = 0;
  double certainty = 0;  // bits, see block_decoder.cpp
};

// Data first, then `checks` check codewords. Nothing if no codeword of the code is near enough to what is
// known.
std::optional<DecodedBlock> decode_block(std::span<const SoftCodeword> block, int checks);

}  // namespace loadlight::vision
