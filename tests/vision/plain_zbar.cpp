// Apart from plain ZXing, whose macros zbar's headers trip over.
#include <zbar.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>

#include "vision/plain_reader.h"

namespace loadlight::vision_tests {

std::vector<std::string> plain_zbar(port::GrayView picture) {
  zbar::ImageScanner scanner;
  scanner.set_config(zbar::ZBAR_NONE, zbar::ZBAR_CFG_ENABLE, 0);
  scanner.set_config(zbar::ZBAR_QRCODE, zbar::ZBAR_CFG_ENABLE, 1);
  std::vector<std::uint8_t> rows;  // zbar knows no stride
  for (int y = 0; y < picture.height; ++y) {
    const auto* row = picture.pixels + static_cast<std::ptrdiff_t>(y) * picture.stride;
    rows.insert(rows.end(), row, row + picture.width);
  }
  zbar::Image image(static_cast<unsigned>(picture.width), static_cast<unsigned>(picture.height), "Y800",
                    rows.data(), rows.size());
  scanner.scan(image);
  std::vector<std::string> texts;
  for (auto symbol = image.symbol_begin(); symbol != image.symbol_end(); ++symbol) {
    const auto text = symbol->get_data();
    if (std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(text);
  }
  return texts;
}

}  // namespace loadlight::vision_tests
