#include "pouch_art.h"

#include <opencv2/imgproc.hpp>

namespace shelf {
namespace {

constexpr double kArtPerMillimetre = kPixelsPerMillimetre * kArtScale;
constexpr double kSealMillimetres = 6;
constexpr double kCornerMillimetres = 3;

int art(double millimetres) {
  return cvRound(millimetres * kArtPerMillimetre);
}

cv::Scalar lighter(const cv::Scalar& colour, double by) {
  return {colour[0] + by, colour[1] + by, colour[2] + by};
}

// A rounded sheet of one colour.
PouchArt sheet(double width_mm, double height_mm, const cv::Scalar& colour) {
  const cv::Size size{art(width_mm), art(height_mm)};
  PouchArt pouch{cv::Mat{size, CV_8UC3, colour}, cv::Mat::zeros(size, CV_8UC1)};
  const int r = art(kCornerMillimetres);
  cv::rectangle(pouch.alpha, {r, 0}, {size.width - 1 - r, size.height - 1}, 255, cv::FILLED);
  cv::rectangle(pouch.alpha, {0, r}, {size.width - 1, size.height - 1 - r}, 255, cv::FILLED);
  for (const int x : {r, size.width - 1 - r}) {
    for (const int y : {r, size.height - 1 - r})
      cv::circle(pouch.alpha, {x, y}, r, 255, cv::FILLED, cv::LINE_AA);
  }
  return pouch;
}

// A band of heat seal: fine ribs across it.
void seal(cv::Mat& bgr, const cv::Rect& band, const cv::Scalar& colour) {
  cv::Mat part = bgr(band & cv::Rect{{0, 0}, bgr.size()});
  part = lighter(colour, 8);
  const bool upright = band.height > band.width;
  const int end = upright ? part.rows : part.cols;
  for (int at = 0; at < end; at += art(1.1)) {
    const cv::Point from = upright ? cv::Point{0, at} : cv::Point{at, 0};
    const cv::Point to = upright ? cv::Point{part.cols, at} : cv::Point{at, part.rows};
    cv::line(part, from, to, lighter(colour, -12), art(0.35));
  }
}

void seal_edges(cv::Mat& bgr, const cv::Scalar& colour) {
  const int s = art(kSealMillimetres);
  seal(bgr, {0, 0, s, bgr.rows}, colour);
  seal(bgr, {bgr.cols - s, 0, s, bgr.rows}, colour);
  seal(bgr, {0, art(3), bgr.cols, s}, colour);
}

// Handles and tips of instruments behind the film.
void draw_instruments(cv::Mat& bgr, cv::RNG& random) {
  const int count = random.uniform(3, 5);
  for (int i = 0; i < count; ++i) {
    const int x = cvRound(bgr.cols * (0.24 + 0.52 * i / (count - 1))) + random.uniform(-6, 7);
    const int tilt = random.uniform(-14, 15), width = art(random.uniform(2.6, 4.2));
    const cv::Point top{x, art(14)}, neck{x + tilt / 2, art(34)}, bottom{x + tilt, bgr.rows - art(8)};
    cv::line(bgr, top, neck, {148, 146, 140}, width / 3, cv::LINE_AA);
    cv::line(bgr, neck, bottom, {132, 130, 124}, width, cv::LINE_AA);
    cv::line(bgr, neck + cv::Point{-width / 4, 4}, bottom + cv::Point{-width / 4, -4}, {205, 204, 200},
             width / 5, cv::LINE_AA);
    if (i % 2 == 0)
      cv::ellipse(bgr, top, {art(4), art(5)}, tilt, 0, 360, {120, 118, 112}, art(1), cv::LINE_AA);
  }
}

// Film lets through and shines along soft slanted bands.
void lay_film(cv::Mat& bgr, cv::RNG& random) {
  const cv::Mat tint{bgr.size(), CV_8UC3, cv::Scalar{214, 205, 178}};
  cv::addWeighted(bgr, 0.76, tint, 0.24, 0, bgr);
  cv::Mat shine = cv::Mat::zeros(bgr.size(), CV_8UC3);
  for (int i = 0; i < 3; ++i) {
    const int x = random.uniform(0, bgr.cols), slant = random.uniform(art(10), art(40));
    const double level = random.uniform(14, 38);
    cv::line(shine, {x, 0}, {x - slant, bgr.rows}, cv::Scalar::all(level), art(random.uniform(2, 9)));
  }
  cv::GaussianBlur(shine, shine, {}, art(1.6));
  bgr += shine;
}

// What a processed pouch shows of its own: a printed line with an arrow and a dark spot of indicator ink.
void print_indicator(cv::Mat& bgr, cv::RNG& random) {
  const int y = art(15);
  const cv::Scalar ink{78, 62, 54};
  cv::rectangle(bgr, {bgr.cols - art(24), y}, {bgr.cols - art(11), y + art(4)}, ink, cv::FILLED);
  cv::arrowedLine(bgr, {art(11), y + art(2)}, {art(26) + random.uniform(0, 9), y + art(2)}, {170, 120, 70},
                  art(0.7), cv::LINE_AA, 0, 0.25);
}

void lay_tape(cv::Mat& label, cv::RNG& random) {
  const int x = cvRound(label.cols * 0.66), width = cvRound(label.cols * 0.085);
  const cv::Scalar tape{178, 214, 226};
  cv::Mat part = label.colRange(x, x + width);
  part = tape;
  for (int y = -width; y < label.rows; y += art(3.2)) {
    cv::line(part, {0, y + width}, {width, y}, {120, 140, 150}, art(0.9), cv::LINE_AA);
  }
  shade(part, 1 + smooth_field(part.size(), art(6), 0.04, random));
}

// Takes the label's right edge away along a ragged line; what is under it shows.
void tear(cv::Mat& mask, cv::RNG& random) {
  std::vector<cv::Point> ragged{{mask.cols, 0}};
  const int rows = mask.rows, cols = mask.cols;
  for (int y = 0; y <= rows; y += std::max(1, rows / 24)) {
    ragged.emplace_back(cvRound(cols * (0.88 - 0.18 * y / rows)) + random.uniform(-9, 10), y);
  }
  ragged.emplace_back(cols, rows);
  cv::fillPoly(mask, std::vector<std::vector<cv::Point>>{ragged}, 0, cv::LINE_AA);
}

void stick_label(cv::Mat& bgr, const LabelledPouch& pouch, cv::RNG& random) {
  cv::Mat label;
  const double scale = art(pouch.width_mm) / static_cast<double>(pouch.label.cols);
  cv::resize(pouch.label, label, {}, scale, scale, scale < 1 ? cv::INTER_AREA : cv::INTER_LINEAR);
  label.convertTo(label, CV_8UC3, 0.86, 26);  // thermal ink is no black, paper no white
  cv::Mat mask{label.size(), CV_8UC1, cv::Scalar{255}};
  if (pouch.harm == Harm::Taped) lay_tape(label, random);
  if (pouch.harm == Harm::Torn) tear(mask, random);
  const cv::Rect place{(bgr.cols - label.cols) / 2, bgr.rows - label.rows - art(15), label.cols, label.rows};
  const int lift = art(0.4);
  bgr(place + cv::Point{lift, lift}) *= 0.82;
  label.copyTo(bgr(place), mask);
}

// Puckers paper, film and label together, and lights them from above.
void pucker(PouchArt& pouch, cv::RNG& random) {
  const cv::Size size = pouch.bgr.size();
  const cv::Mat dx = smooth_field(size, art(16), 2.2, random), dy = smooth_field(size, art(16), 2.2, random);
  cv::Mat map_x{size, CV_32F}, map_y{size, CV_32F};
  for (int y = 0; y < size.height; ++y) {
    for (int x = 0; x < size.width; ++x) {
      map_x.at<float>(y, x) = static_cast<float>(x) + dx.at<float>(y, x);
      map_y.at<float>(y, x) = static_cast<float>(y) + dy.at<float>(y, x);
    }
  }
  cv::remap(pouch.bgr, pouch.bgr, map_x, map_y, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  cv::remap(pouch.alpha, pouch.alpha, map_x, map_y, cv::INTER_LINEAR, cv::BORDER_CONSTANT, 0);
  cv::Mat slope;
  cv::Sobel(dy, slope, CV_32F, 0, 1, 5);
  shade(pouch.bgr, 1 + 0.008 * slope + smooth_field(size, art(30), 0.03, random));
}

}  // namespace

cv::Mat smooth_field(cv::Size size, double length, double deviation, cv::RNG& random) {
  const cv::Size coarse{std::max(3, cvRound(size.width / length) + 2),
                        std::max(3, cvRound(size.height / length) + 2)};
  cv::Mat points{coarse, CV_32F}, field;
  random.fill(points, cv::RNG::NORMAL, 0, deviation);
  cv::resize(points, field, size, 0, 0, cv::INTER_CUBIC);
  return field;
}

void shade(cv::Mat& bgr, const cv::Mat& factors) {
  cv::Mat three, wide;
  cv::merge(std::vector<cv::Mat>{factors, factors, factors}, three);
  bgr.convertTo(wide, CV_32FC3);
  wide = wide.mul(three);
  wide.convertTo(bgr, CV_8UC3);
}

PouchArt draw_pouch(const LabelledPouch& pouch, cv::RNG& random) {
  const cv::Scalar paper{222, 228, 230};
  PouchArt out = sheet(pouch.width_mm + random.uniform(15.0, 22.0), random.uniform(108.0, 121.0), paper);
  draw_instruments(out.bgr, random);
  lay_film(out.bgr, random);
  seal_edges(out.bgr, {212, 208, 194});
  print_indicator(out.bgr, random);
  stick_label(out.bgr, pouch, random);
  pucker(out, random);
  return out;
}

PouchArt draw_plain_pouch(cv::RNG& random) {
  const cv::Scalar paper{226, 234, 238};
  PouchArt out = sheet(random.uniform(72.0, 78.0), random.uniform(94.0, 102.0), paper);
  shade(out.bgr, 1 + smooth_field(out.bgr.size(), 3, 0.012, random));
  seal_edges(out.bgr, paper);
  print_indicator(out.bgr, random);
  pucker(out, random);
  return out;
}

}  // namespace shelf
