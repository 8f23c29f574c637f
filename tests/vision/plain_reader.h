// The peers of every figure: plain ZXing-C++ and zbar over the whole picture, as anybody would call them.
#pragma once

#include <string>
#include <vector>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision_tests {

std::vector<std::string> plain_zxing(port::GrayView picture);

// QR symbols only; each text once.
std::vector<std::string> plain_zbar(port::GrayView picture);

}  // namespace loadlight::vision_tests
