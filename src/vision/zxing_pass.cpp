#define ZX_USE_UTF8 1
#include "vision/zxing_pass.h"

#include <ZXing/ReadBarcode.h>

#include <exception>
#include <string_view>

#include "vision/valid_utf8.h"

namespace loadlight::vision {
namespace {

ZXing::DecodeHints hints() {
  return ZXing::DecodeHints()
      .setFormats(ZXing::BarcodeFormat::QRCode)  // micro QR is a format of its own and stays out
      .setTryHarder(true);
}

Quadrilateral corners_of(const ZXing::Position& position) {
  Quadrilateral corners;
  for (std::size_t i = 0; i < 4; ++i) {
    corners[i] = {static_cast<double>(position[i].x), static_cast<double>(position[i].y)};
  }
  return clockwise(corners);
}

}  // namespace

std::vector<port::SymbolSighting> zxing_pass(port::GrayView view) {
  std::vector<port::SymbolSighting> sightings;
  if (view.pixels == nullptr || view.width < 1 || view.height < 1) return sightings;
  try {
    const ZXing::ImageView image(view.pixels, view.width, view.height, ZXing::ImageFormat::Lum, view.stride);
    for (const auto& result : ZXing::ReadBarcodes(image, hints())) {
      auto text = result.isValid() ? valid_utf8(result.text()) : std::string();
      // A symbol without a character says nothing, and an area without data can pass for one.
      if (!text.empty()) sightings.push_back({std::move(text), corners_of(result.position())});
    }
  } catch (const std::exception&) {
    // What was found before the library gave up still stands.
  }
  return sightings;
}

}  // namespace loadlight::vision
