#define ZX_USE_UTF8 1
#include "vision/plain_reader.h"

#include <ZXing/ReadBarcode.h>

namespace loadlight::vision_tests {

std::vector<std::string> plain_zxing(port::GrayView picture) {
  const ZXing::ImageView image(picture.pixels, picture.width, picture.height, ZXing::ImageFormat::Lum,
                               picture.stride);
  std::vector<std::string> texts;
  const auto hints = ZXing::DecodeHints().setFormats(ZXing::BarcodeFormat::QRCode);
  for (const auto& result : ZXing::ReadBarcodes(image, hints)) {
    if (result.isValid()) texts.push_back(result.text());
  }
  return texts;
}

}  // namespace loadlight::vision_tests
