#include "vision/camera_view.h"

#include <cmath>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "vision/pouch_art.h"

namespace loadlight::vision_tests {
namespace {

constexpr double kDistance = 300;  // modules from the eye to the symbol's middle

// From artwork pixels to picture pixels: turned, tilted about an axis of its own, and placed.
cv::Matx33d projection(const PouchArt& art, const Harms& harms, double axis, cv::Point2d at) {
  const double half = art.symbol_side / 2.0;
  const cv::Matx33d to_modules(1.0 / kArtPerModule, 0, -art.symbol_top_left.x / kArtPerModule - half,  //
                               0, 1.0 / kArtPerModule, -art.symbol_top_left.y / kArtPerModule - half,  //
                               0, 0, 1);
  const double turn = harms.turn * CV_PI / 180;
  const cv::Matx33d turned(std::cos(turn), -std::sin(turn), 0, std::sin(turn), std::cos(turn), 0, 0, 0, 1);
  const double tilt = harms.tilt * CV_PI / 180;
  const double across = std::cos(axis);
  const double along = std::sin(axis);
  // The distance from the axis shrinks by cos(tilt) in the plane and goes sin(tilt) into depth.
  const double shrink = 1 - std::cos(tilt);
  const cv::Matx33d tilted(1 - shrink * along * along, shrink * along * across, 0,    //
                           shrink * along * across, 1 - shrink * across * across, 0,  //
                           -along * std::sin(tilt) / kDistance, across * std::sin(tilt) / kDistance, 1);
  const cv::Matx33d placed(harms.module, 0, at.x, 0, harms.module, at.y, 0, 0, 1);
  return placed * tilted * turned * to_modules;
}

cv::Point2d project(const cv::Matx33d& matrix, cv::Point2d point) {
  const cv::Vec3d p = matrix * cv::Vec3d(point.x, point.y, 1);
  return {p[0] / p[2], p[1] / p[2]};
}

TrueSymbol true_symbol(const PouchArt& art, const cv::Matx33d& matrix, const std::string& text) {
  const double side = art.symbol_side * kArtPerModule;
  const std::array<cv::Point2d, 4> offsets{{{0, 0}, {side, 0}, {side, side}, {0, side}}};
  TrueSymbol symbol;
  symbol.text = text;
  double around = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const auto here = project(matrix, art.symbol_top_left + offsets[i]);
    symbol.corners[i] = {here.x, here.y};
    around += cv::norm(project(matrix, art.symbol_top_left + offsets[(i + 1) % 4]) - here);
  }
  symbol.module = around / 4 / art.symbol_side;
  return symbol;
}

// Warped at three times the size and averaged down, so that fine artwork does not alias. Pixel centres lie
// at half coordinates, hence the shifts.
void lay_on(cv::Mat& bgr, const PouchArt& art, const cv::Matx33d& matrix) {
  constexpr double kFiner = 3;
  const cv::Matx33d to_corner(1, 0, 0.5, 0, 1, 0.5, 0, 0, 1);
  const cv::Matx33d to_fine(kFiner, 0, -0.5, 0, kFiner, -0.5, 0, 0, 1);
  const cv::Size fine_size = bgr.size() * static_cast<int>(kFiner);
  cv::Mat fine;
  cv::Mat cover(art.bgr.size(), CV_8UC1, cv::Scalar(255));
  cv::warpPerspective(art.bgr, fine, cv::Mat(to_fine * matrix * to_corner), fine_size, cv::INTER_LINEAR);
  cv::warpPerspective(cover, cover, cv::Mat(to_fine * matrix * to_corner), fine_size, cv::INTER_NEAREST);
  cv::resize(fine, fine, bgr.size(), 0, 0, cv::INTER_AREA);
  cv::resize(cover, cover, bgr.size(), 0, 0, cv::INTER_AREA);
  fine.copyTo(bgr, cover > 254);
}

void shine(cv::Mat& bgr, const TrueSymbol& symbol, double share, cv::RNG& rng) {
  if (share <= 0) return;
  const double side =
      std::hypot(symbol.corners[1].x - symbol.corners[0].x, symbol.corners[1].y - symbol.corners[0].y);
  const cv::Point2d middle((symbol.corners[0].x + symbol.corners[2].x) / 2 + rng.uniform(-0.3, 0.3) * side,
                           (symbol.corners[0].y + symbol.corners[2].y) / 2 + rng.uniform(-0.3, 0.3) * side);
  const double angle = rng.uniform(0.0, CV_PI);
  const cv::Point2d along(std::cos(angle) * side, std::sin(angle) * side);
  cv::Mat band(bgr.size(), CV_8UC3, cv::Scalar::all(0));
  cv::line(band, middle - along, middle + along, cv::Scalar::all(255),
           std::max(1, static_cast<int>(share * side)), cv::LINE_AA);
  cv::GaussianBlur(band, band, {}, 0.02 * side + 0.5);
  bgr += band * 1.6;
}

void blur(cv::Mat& bgr, const Harms& harms, cv::RNG& rng) {
  if (harms.defocus > 0) cv::GaussianBlur(bgr, bgr, {}, harms.defocus);
  if (harms.motion < 1) return;
  const int size = static_cast<int>(std::ceil(harms.motion)) | 1;
  cv::Mat kernel(size, size, CV_32F, cv::Scalar(0));
  const double angle = rng.uniform(0.0, CV_PI);
  const cv::Point2d half(std::cos(angle) * harms.motion / 2, std::sin(angle) * harms.motion / 2);
  const cv::Point2d middle(size / 2, size / 2);
  cv::line(kernel, middle - half, middle + half, cv::Scalar(1));
  cv::filter2D(bgr, bgr, -1, kernel / cv::sum(kernel)[0]);
}

void dim_and_grain(cv::Mat& bgr, const Harms& harms, cv::RNG& rng) {
  const double lift = (1 - harms.contrast) * 0.5;
  bgr.convertTo(bgr, CV_16S, harms.light * harms.contrast, 255 * harms.light * lift);
  cv::Mat grain(bgr.size(), CV_16SC3);
  rng.fill(grain, cv::RNG::NORMAL, 0, std::max(0.01, harms.noise));
  cv::add(bgr, grain, bgr);
  bgr.convertTo(bgr, CV_8U);
}

void finish(CameraView& view, const Harms& harms, cv::RNG& rng) {
  for (const auto& symbol : view.symbols) shine(view.bgr, symbol, harms.glare, rng);
  blur(view.bgr, harms, rng);
  dim_and_grain(view.bgr, harms, rng);
  std::vector<std::uint8_t> bytes;
  cv::imencode(".jpg", view.bgr, bytes, {cv::IMWRITE_JPEG_QUALITY, harms.jpeg});
  view.bgr = cv::imdecode(bytes, cv::IMREAD_COLOR);
  cv::cvtColor(view.bgr, view.gray, cv::COLOR_BGR2GRAY);
}

// Steel, paper, trays and cloth rather than toys: greys with a cast.
cv::Scalar any_colour(cv::RNG& rng) {
  const double grey = rng.uniform(20, 236);
  return {grey + rng.uniform(-30, 31), grey + rng.uniform(-20, 21), grey + rng.uniform(-30, 31)};
}

void draw_thing(cv::Mat& bench, cv::RNG& rng) {
  const cv::Point at(rng.uniform(0, bench.cols), rng.uniform(0, bench.rows));
  const cv::Point to = at + cv::Point(rng.uniform(-200, 200), rng.uniform(-200, 200));
  const cv::Size size(rng.uniform(5, 120), rng.uniform(5, 120));
  switch (rng.uniform(0, 4)) {
    case 0:
      cv::rectangle(bench, {at, size}, any_colour(rng), cv::FILLED);
      return;
    case 1:
      cv::line(bench, at, to, any_colour(rng), rng.uniform(1, 12), cv::LINE_AA);
      return;
    case 2:
      cv::ellipse(bench, at, size, rng.uniform(0, 180), 0, 360, any_colour(rng), rng.uniform(1, 8),
                  cv::LINE_AA);
      return;
    default:
      cv::putText(bench, "BENCH 7 NOTE", at, cv::FONT_HERSHEY_SIMPLEX, rng.uniform(0.4, 1.5), any_colour(rng),
                  2, cv::LINE_AA);
  }
}

}  // namespace

cv::Mat cluttered_bench(cv::RNG& rng, cv::Size size) {
  cv::Mat bench(size, CV_8UC3, any_colour(rng) * 0.6 + cv::Scalar::all(50));
  const int things = size.area() / 12000;
  for (int i = 0; i < things; ++i) draw_thing(bench, rng);
  cv::GaussianBlur(bench, bench, {}, 0.8);
  return bench;
}

Harms chairside_harms(cv::RNG& rng) {
  Harms harms;
  harms.module = rng.uniform(2.6, 6.0);
  harms.turn = rng.uniform(0.0, 360.0);
  harms.tilt = rng.uniform(0.0, 35.0);
  harms.defocus = rng.uniform(0.3, 0.30 * harms.module);
  harms.noise = rng.uniform(2.0, 8.0);
  harms.jpeg = rng.uniform(70, 95);
  switch (rng.uniform(0, 4)) {
    case 0:
      harms.glare = rng.uniform(0.005, 0.03);
      break;
    case 1:
      harms.light = rng.uniform(0.15, 0.4);
      break;
    case 2:
      harms.noise = rng.uniform(10.0, 25.0);
      break;
    default:
      harms.motion = rng.uniform(0.0, 0.6) * harms.module;
      harms.contrast = rng.uniform(0.45, 1.0);
  }
  return harms;
}

CameraView pouch_view(const Harms& harms, cv::RNG& rng, cv::Size frame) {
  CameraView view;
  view.bgr = cluttered_bench(rng, frame);
  const auto text = label_like_text(rng);
  const auto art = pouch_art(text, rng);
  const cv::Point2d at(frame.width * rng.uniform(0.38, 0.62), frame.height * rng.uniform(0.38, 0.62));
  const auto matrix = projection(art, harms, rng.uniform(0.0, CV_PI), at);
  lay_on(view.bgr, art, matrix);
  view.symbols.push_back(true_symbol(art, matrix, text));
  finish(view, harms, rng);
  return view;
}

CameraView shelf_view(int columns, int rows, const Harms& harms, cv::RNG& rng, cv::Size frame) {
  CameraView view;
  view.bgr = cluttered_bench(rng, frame);
  const cv::Size cell(frame.width / columns, frame.height / rows);
  for (int i = 0; i < columns * rows; ++i) {
    const auto text = label_like_text(rng);
    const auto art = label_art(text, rng);
    Harms mine = harms;
    mine.turn = rng.uniform(-8.0, 8.0);
    // Each in its own cell: drawn in a picture of the cell's size, the symbol left of the cell's middle.
    const cv::Rect place((i % columns) * cell.width, (i / columns) * cell.height, cell.width, cell.height);
    const auto matrix =
        projection(art, mine, rng.uniform(0.0, CV_PI), {cell.width * 0.27, cell.height * 0.5});
    cv::Mat part = view.bgr(place);
    lay_on(part, art, matrix);
    const cv::Matx33d shifted(1, 0, place.x, 0, 1, place.y, 0, 0, 1);
    view.symbols.push_back(true_symbol(art, shifted * matrix, text));
  }
  finish(view, harms, rng);
  return view;
}

port::GrayView view_of(const cv::Mat& gray) {
  return {gray.data, gray.cols, gray.rows, static_cast<int>(gray.step)};
}

}  // namespace loadlight::vision_tests
