// The peer of every figure: plain ZXing-C++ over the whole picture, as anybody would call it.
#pragma once

#include <string>
#include <vector>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision_tests {

std::vector<std::string> plain_zxing(port::GrayView picture);

}  // namespace loadlight::vision_tests
