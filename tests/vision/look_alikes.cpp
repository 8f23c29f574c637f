#include "vision/look_alikes.h"

#include <ZXing/BitMatrix.h>
#include <ZXing/MultiFormatWriter.h>
#include <qrencode.h>

#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/pouch_art.h"

namespace loadlight::vision_tests {
namespace {

cv::Mat of_another_kind(ZXing::BarcodeFormat format, const std::string& text, int width, int height) {
  const std::wstring wide(text.begin(), text.end());
  const auto matrix = ZXing::MultiFormatWriter(format).setMargin(12).encode(wide, width, height);
  cv::Mat gray(matrix.height(), matrix.width(), CV_8UC1);
  for (int y = 0; y < gray.rows; ++y) {
    for (int x = 0; x < gray.cols; ++x) gray.at<std::uint8_t>(y, x) = matrix.get(x, y) ? 0 : 255;
  }
  return gray;
}

cv::Mat micro_symbol(const std::string& text) {
  QRcode* symbol = QRcode_encodeStringMQR(text.c_str(), 4, QR_ECLEVEL_L, QR_MODE_8, 1);
  cv::Mat modules(symbol->width, symbol->width, CV_8UC1);
  for (int i = 0; i < symbol->width * symbol->width; ++i) {
    modules.at<std::uint8_t>(i / symbol->width, i % symbol->width) = symbol->data[i] % 2 == 1 ? 0 : 255;
  }
  QRcode_free(symbol);
  return enlarged(modules, 8, 6);
}

// Everything but the finders, and what they stand in, replaced.
cv::Mat without_data(cv::RNG& rng, bool noise) {
  const int size = 17 + 4 * rng.uniform(1, 8);
  cv::Mat modules(size, size, CV_8UC1, cv::Scalar(255));
  if (noise) {
    rng.fill(modules, cv::RNG::UNIFORM, 0, 2);
    modules *= 255;
  }
  for (const auto corner : {cv::Point(0, 0), cv::Point(size - 7, 0), cv::Point(0, size - 7)}) {
    cv::rectangle(modules, cv::Rect(corner - cv::Point(1, 1), cv::Size(9, 9)), cv::Scalar(255), cv::FILLED);
    cv::rectangle(modules, cv::Rect(corner, cv::Size(7, 7)), cv::Scalar(0), cv::FILLED);
    cv::rectangle(modules, cv::Rect(corner + cv::Point(1, 1), cv::Size(5, 5)), cv::Scalar(255), cv::FILLED);
    cv::rectangle(modules, cv::Rect(corner + cv::Point(2, 2), cv::Size(3, 3)), cv::Scalar(0), cv::FILLED);
  }
  return enlarged(modules, 6, 5);
}

cv::Mat concentric_squares(cv::RNG& rng) {
  cv::Mat gray(640, 640, CV_8UC1, cv::Scalar(255));
  for (int i = 0; i < 30; ++i) {
    const int module = rng.uniform(3, 9);
    const cv::Point at(rng.uniform(0, 570), rng.uniform(0, 570));
    cv::rectangle(gray, cv::Rect(at, cv::Size(7, 7) * module), cv::Scalar(0), cv::FILLED);
    cv::rectangle(gray, cv::Rect(at + cv::Point(module, module), cv::Size(5, 5) * module), cv::Scalar(255),
                  cv::FILLED);
    cv::rectangle(gray, cv::Rect(at + cv::Point(2, 2) * module, cv::Size(3, 3) * module), cv::Scalar(0),
                  cv::FILLED);
  }
  return gray;
}

cv::Mat checkerboard(int square) {
  cv::Mat gray(480, 640, CV_8UC1);
  for (int y = 0; y < gray.rows; ++y) {
    for (int x = 0; x < gray.cols; ++x)
      gray.at<std::uint8_t>(y, x) = (x / square + y / square) % 2 == 0 ? 0 : 255;
  }
  return gray;
}

cv::Mat coarse_noise(cv::RNG& rng) {
  cv::Mat small(90, 120, CV_8UC1);
  rng.fill(small, cv::RNG::UNIFORM, 0, 2);
  cv::Mat gray;
  cv::resize(small * 255, gray, {}, rng.uniform(2, 7), rng.uniform(2, 7), cv::INTER_NEAREST);
  return gray;
}

cv::Mat lines_of_text(cv::RNG& rng) {
  cv::Mat gray(480, 640, CV_8UC1, cv::Scalar(255));
  for (int y = 30; y < 480; y += 28) {
    cv::putText(gray, label_like_text(rng), {10, y}, cv::FONT_HERSHEY_SIMPLEX, 0.6, cv::Scalar(0), 2,
                cv::LINE_AA);
  }
  return gray;
}

cv::Mat fine_noise(cv::RNG& rng) {
  cv::Mat gray(480, 640, CV_8UC1);
  rng.fill(gray, cv::RNG::UNIFORM, 0, 256);
  return gray;
}

cv::Mat bench(cv::RNG& rng) {
  cv::Mat gray;
  cv::cvtColor(cluttered_bench(rng, {960, 720}), gray, cv::COLOR_BGR2GRAY);
  return gray;
}

}  // namespace

std::vector<LookAlike> look_alikes(cv::RNG& rng) {
  using ZXing::BarcodeFormat;
  std::vector<LookAlike> pictures;
  for (int i = 0; i < 6; ++i) {
    const auto text = label_like_text(rng);
    pictures.push_back({"finders without data", without_data(rng, false)});
    pictures.push_back({"finders around noise", without_data(rng, true)});
    pictures.push_back({"concentric squares", concentric_squares(rng)});
    pictures.push_back({"checkerboard", checkerboard(3 + 4 * i)});
    pictures.push_back({"coarse noise", coarse_noise(rng)});
    pictures.push_back({"fine noise", fine_noise(rng)});
    pictures.push_back({"text", lines_of_text(rng)});
    pictures.push_back({"bench", bench(rng)});
    pictures.push_back({"micro QR", micro_symbol(text.substr(5, 10))});
    pictures.push_back({"Data Matrix", of_another_kind(BarcodeFormat::DataMatrix, text, 400, 400)});
    pictures.push_back({"Aztec", of_another_kind(BarcodeFormat::Aztec, text, 400, 400)});
    pictures.push_back({"PDF417", of_another_kind(BarcodeFormat::PDF417, text, 600, 300)});
    pictures.push_back({"Code 128", of_another_kind(BarcodeFormat::Code128, text.substr(5, 12), 600, 120)});
    pictures.push_back({"Code 39", of_another_kind(BarcodeFormat::Code39, text.substr(5, 9), 600, 120)});
  }
  return pictures;
}

}  // namespace loadlight::vision_tests
