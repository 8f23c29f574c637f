#include "vision/drawn_symbol.h"

#include <qrencode.h>

#include <memory>
#include <opencv2/imgproc.hpp>
#include <stdexcept>

namespace loadlight::vision_tests {
namespace {

struct Release final {
  void operator()(QRcode* symbol) const { QRcode_free(symbol); }
};
using Owned = std::unique_ptr<QRcode, Release>;

QRecLevel level_of(Level level) {
  switch (level) {
    case Level::L:
      return QR_ECLEVEL_L;
    case Level::M:
      return QR_ECLEVEL_M;
    case Level::Q:
      return QR_ECLEVEL_Q;
    case Level::H:
      return QR_ECLEVEL_H;
  }
  return QR_ECLEVEL_L;
}

}  // namespace

cv::Mat drawn_symbol(const std::string& text, int version, Level level) {
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
  Owned symbol(text.find_first_not_of("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:") == std::string::npos
                   ? QRcode_encodeString(text.c_str(), version, level_of(level), QR_MODE_8, 1)
                   : QRcode_encodeData(static_cast<int>(text.size()), bytes, version, level_of(level)));
  if (symbol == nullptr || symbol->version != version)
    throw std::invalid_argument("no symbol holds this text");
  cv::Mat modules(symbol->width, symbol->width, CV_8UC1);
  for (int y = 0; y < symbol->width; ++y) {
    for (int x = 0; x < symbol->width; ++x) {
      modules.at<std::uint8_t>(y, x) = symbol->data[y * symbol->width + x] % 2 == 1 ? 0 : 255;
    }
  }
  return modules;
}

cv::Mat enlarged(const cv::Mat& symbol, int module, int quiet) {
  cv::Mat framed;
  cv::copyMakeBorder(symbol, framed, quiet, quiet, quiet, quiet, cv::BORDER_CONSTANT, cv::Scalar(255));
  cv::Mat result;
  cv::resize(framed, result, {}, module, module, cv::INTER_NEAREST);
  return result;
}

}  // namespace loadlight::vision_tests
