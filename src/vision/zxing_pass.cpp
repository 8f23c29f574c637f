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
      .setTryHarder(true)
      .setReturnErrors(true);
}

Quadrilateral corners_of(const ZXing::Position& position) {
  Quadrilateral corners;
  for (std::size_t i = 0; i < 4; ++i) {
    corners[i] = {static_cast<double>(position[i].x), static_cast<double>(position[i].y)};
  }
  return clockwise(corners);
}

// A symbol without a character says nothing, and an area without data can pass for one: it counts as unread.
void add(const ZXing::Result& result, PassFindings& findings) {
  const auto corners = corners_of(result.position());
  auto text = result.isValid() ? valid_utf8(result.text()) : std::string();
  if (text.empty()) {
    findings.unread.push_back(corners);
  } else {
    findings.read.push_back({std::move(text), corners});
  }
}

}  // namespace

PassFindings zxing_pass(port::GrayView view) {
  PassFindings findings;
  if (view.pixels == nullptr || view.width < 1 || view.height < 1) return findings;
  try {
    const ZXing::ImageView image(view.pixels, view.width, view.height, ZXing::ImageFormat::Lum, view.stride);
    for (const auto& result : ZXing::ReadBarcodes(image, hints())) add(result, findings);
  } catch (const std::exception&) {
    // What was found before the library gave up still stands.
  }
  return findings;
}

}  // namespace loadlight::vision
