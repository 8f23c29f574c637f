#include "vision/modelled_shelf.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"
#include "vision/lens.h"

namespace loadlight::vision_tests {
namespace {

constexpr double kPanDifficulty = 0.4;
constexpr int kPanLabels = 113;
const cv::Size kPanFrame{1920, 1080};
constexpr int kPanLength = 4200;    // pixels of shelf
constexpr double kPanNoise = 4;     // grey levels
constexpr double kGlareEdge = 0.4;  // modules
constexpr double kWarpReach = 90;   // modules
constexpr double kBoxModule = 3.36;  // pixels

double radians(double degrees) {
  return degrees * CV_PI / 180;
}

// A label's place on the shelf, as a rectangle of pixels.
struct Place final {
  cv::Point2d middle;  // of the label
  double module = 0;
  double turn = 0;  // radians
  cv::RotatedRect outline;
};

double shelf_turn(cv::RNG& rng) {
  const double askew = radians(rng.uniform(-18.0, 18.0));
  return rng.uniform(0.0, 1.0) < 0.85 ? askew : askew + CV_PI / 2 * rng.uniform(1, 4);
}

bool free_of(const std::vector<Place>& taken, const cv::RotatedRect& outline) {
  std::vector<cv::Point2f> shared;
  return std::none_of(taken.begin(), taken.end(), [&](const Place& place) {
    const double reach = (std::hypot(place.outline.size.width, place.outline.size.height) +
                          std::hypot(outline.size.width, outline.size.height)) /
                         2;
    if (cv::norm(place.outline.center - outline.center) > reach) return false;
    return cv::rotatedRectangleIntersection(place.outline, outline, shared) != cv::INTERSECT_NONE;
  });
}

// A place for artwork of `modules` size that no other label touches, if there is one.
bool take_place(std::vector<Place>& taken, cv::Size2d modules, double module, cv::Size shelf, cv::RNG& rng) {
  for (int attempt = 0; attempt < 4000; ++attempt) {
    Place place;
    place.module = module;
    place.turn = shelf_turn(rng);
    const cv::Size2f size(static_cast<float>(modules.width * module + 6),
                          static_cast<float>(modules.height * module + 6));
    const double half = std::hypot(size.width, size.height) / 2;
    const double reach_x = std::min(half, std::abs(std::cos(place.turn)) * size.width / 2 +
                                              std::abs(std::sin(place.turn)) * size.height / 2);
    const double reach_y = std::min(half, std::abs(std::sin(place.turn)) * size.width / 2 +
                                              std::abs(std::cos(place.turn)) * size.height / 2);
    place.middle = {rng.uniform(reach_x, shelf.width - reach_x),
                    rng.uniform(reach_y, shelf.height - reach_y)};
    place.outline = {cv::Point2f(place.middle), size, static_cast<float>(place.turn * 180 / CV_PI)};
    if (!free_of(taken, place.outline)) continue;
    taken.push_back(place);
    return true;
  }
  return false;
}

// Waves on both axes of the label, up to `amplitude` modules.
cv::Mat waves(double amplitude, cv::RNG& rng) {
  const int size = 2 * static_cast<int>(kWarpReach / kWrinklePitch) + 1;
  const double length_x = rng.uniform(16.0, 40.0) / kWrinklePitch;
  const double length_y = rng.uniform(16.0, 40.0) / kWrinklePitch;
  const double start_x = rng.uniform(0.0, 2 * CV_PI);
  const double start_y = rng.uniform(0.0, 2 * CV_PI);
  cv::Mat field(size, size, CV_32FC2);
  for (int y = 0; y < size; ++y) {
    for (int x = 0; x < size; ++x) {
      field.at<cv::Vec2f>(y, x) = {
          static_cast<float>(amplitude * std::sin(2 * CV_PI * y / length_x + start_x)),
          static_cast<float>(amplitude * std::sin(2 * CV_PI * x / length_y + start_y))};
    }
  }
  return field;
}

// What blurs one label on its own: its distance and its hand's movement.
void smear(cv::Mat& patch, double module, double difficulty, cv::RNG& rng) {
  defocus(patch, (0.12 + rng.uniform(0.0, 0.25 * difficulty)) * module);
  const double length = rng.uniform(0.0, 0.6 * difficulty) * module;
  const double way = rng.uniform(0.0, CV_PI);
  move_blur(patch, cv::Vec2d(std::cos(way), std::sin(way)) * length);
}

void shine(cv::Mat& patch, const Place& place, cv::Point2d symbol, double side, double difficulty,
           cv::RNG& rng) {
  const bool shines = rng.uniform(0.0, 1.0) < 0.25 * difficulty;
  const double width = rng.uniform(1.0, 4.0) * place.module;
  const double reach = 0.3 * side * place.module;
  const cv::Point2d at = symbol + cv::Point2d(rng.uniform(-reach, reach), rng.uniform(-reach, reach));
  blow_out(patch, at, shines ? width : 0, kGlareEdge * place.module, rng);
}

// The pixels that belong to the label, and a soft ring around them.
cv::Mat mask_of(const cv::RotatedRect& outline, cv::Rect box, double ring) {
  cv::Point2f corners[4];
  cv::RotatedRect here(
      outline.center - cv::Point2f(box.tl()),
      {outline.size.width + static_cast<float>(ring), outline.size.height + static_cast<float>(ring)},
      outline.angle);
  here.points(corners);
  cv::Mat mask(box.size(), CV_8U, cv::Scalar(0));
  cv::fillConvexPoly(mask, std::vector<cv::Point>(corners, corners + 4), cv::Scalar(255));
  return mask;
}

cv::Rect box_of(const cv::RotatedRect& outline, int margin, cv::Size shelf) {
  cv::Rect box = outline.boundingRect();
  box -= cv::Point(margin, margin);
  box += cv::Size(2 * margin, 2 * margin);
  return box & cv::Rect({}, shelf);
}

Pose pose_on_shelf(const LabelSubject& subject, const Place& place, cv::Vec2d squeeze) {
  Pose pose;
  pose.module = place.module;
  pose.turn = place.turn;
  pose.squeeze = squeeze;
  // From the label's middle to its symbol's, through the turn.
  const cv::Point2d label(subject.art.bgr.cols / 2.0, subject.art.bgr.rows / 2.0);
  const double half = subject.art.symbol_side / 2.0;
  const cv::Point2d off = (subject.art.symbol_top_left - label) / kArtPerModule + cv::Point2d(half, half);
  const cv::Point2d squeezed(off.x * squeeze[0], off.y * squeeze[1]);
  pose.middle =
      place.middle +
      place.module * cv::Point2d(std::cos(place.turn) * squeezed.x - std::sin(place.turn) * squeezed.y,
                                 std::sin(place.turn) * squeezed.x + std::cos(place.turn) * squeezed.y);
  return pose;
}

ShelfLabel put(cv::Mat& scene, LabelSubject subject, const Place& place, double d, cv::RNG& rng) {
  const cv::Vec2d squeeze(std::cos(rng.uniform(0.0, 0.5 * d)), std::cos(rng.uniform(0.0, 0.5 * d)));
  const double contrast = rng.uniform(0.55, 0.8) - rng.uniform(0.0, 0.35 * d);
  subject.shape.wrinkle = waves(rng.uniform(0.0, 0.35 * d), rng);
  Pose pose = pose_on_shelf(subject, place, squeeze);
  const auto truth = truth_of(subject, pose);
  const auto box = box_of(place.outline, 8, scene.size());
  pose.middle -= cv::Point2d(box.tl());
  cv::Mat patch = scene(box).clone();
  lay_subject(patch, subject, pose, kWhite - 255 * contrast, kWhite);
  smear(patch, place.module, d, rng);
  shine(patch, place, pose.middle, subject.shape.side, d, rng);
  patch.copyTo(scene(box), mask_of(place.outline, box, 1));
  return {truth.text, truth.corners, place.module * (squeeze[0] + squeeze[1]) / 2};
}

// A label that bears no symbol: white, with lines of print or without.
void put_blank(cv::Mat& scene, const cv::RotatedRect& outline, cv::RNG& rng) {
  cv::Point2f corners[4];
  outline.points(corners);
  cv::fillConvexPoly(scene, std::vector<cv::Point>(corners, corners + 4),
                     cv::Scalar::all(rng.uniform(150.0, 228.0)), cv::LINE_AA);
  const cv::Point left(cv::Point2f(0.8f * corners[1] + 0.2f * corners[3]));
  cv::putText(scene, "USE FIRST", left, cv::FONT_HERSHEY_SIMPLEX, 0.5, cv::Scalar::all(60), 1, cv::LINE_AA);
}

// A printed square within a square, as wide as the finder of a symbol of kBoxModule pixels a module.
void print_box(cv::Mat& scene, const cv::RotatedRect& outline) {
  const double greys[] = {60, 220, 60};
  const float sides[] = {7, 5, 3};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto side = static_cast<float>(sides[i] * kBoxModule);
    cv::Point2f corners[4];
    cv::RotatedRect(outline.center, {side, side}, outline.angle).points(corners);
    std::vector<cv::Point> square;
    for (const auto& corner : corners) square.emplace_back(corner * 16);
    cv::fillConvexPoly(scene, square, cv::Scalar::all(greys[i]), cv::LINE_AA, 4);
  }
}

double module_by_lot(const ShelfOrder& order, cv::RNG& rng) {
  return order.least_module + (order.most_module - order.least_module) * rng.uniform(0.0, 1.0);
}

LabelSubject bare_subject(cv::RNG& rng) {
  return label_subject({}, Around::Nothing, rng);
}

}  // namespace

Shelf modelled_shelf(const ShelfOrder& order, cv::RNG& rng) {
  cv::Mat scene;
  cluttered_bench(rng, order.size).convertTo(scene, CV_32F, 0.85, 12);
  std::vector<double> modules;
  for (int i = 0; i < order.labels; ++i) modules.push_back(module_by_lot(order, rng));
  std::sort(modules.begin(), modules.end(), std::greater<>());  // the large ones find a place first
  std::vector<Place> taken;
  Shelf shelf;
  for (const double module : modules) {
    auto subject = bare_subject(rng);
    const cv::Size2d size(subject.art.bgr.cols / kArtPerModule, subject.art.bgr.rows / kArtPerModule);
    if (!take_place(taken, size, module, order.size, rng)) continue;
    shelf.labels.push_back(put(scene, std::move(subject), taken.back(), order.difficulty, rng));
  }
  for (int i = 0; i < order.labels / 8; ++i) {
    if (!take_place(taken, {80, 40}, module_by_lot(order, rng), order.size, rng)) continue;
    put_blank(scene, taken.back().outline, rng);
    if (i < order.boxes) print_box(scene, taken.back().outline);
  }
  scene.convertTo(shelf.bgr, CV_8U);
  return shelf;
}

cv::Mat shelf_frame(const Shelf& shelf, double difficulty, cv::RNG& rng) {
  cv::Mat scene;
  shelf.bgr.convertTo(scene, CV_32F);
  return exposed(scene, 3 + 4 * difficulty, static_cast<int>(std::lround(90 - 25 * difficulty)), rng);
}

Pan::Pan(double speed, cv::RNG& rng)
    : shelf_(modelled_shelf({kPanDifficulty, kPanLabels, {kPanLength, kPanFrame.height}, 2, 2}, rng)),
      speed_(speed),
      rng_(rng.next()) {}

cv::Mat Pan::next() {
  if (next_left_ > shelf_.bgr.cols - kPanFrame.width) return {};
  left_ = next_left_;
  const double way = speed_ * (1 + 0.9 * std::sin(0.35 * frame_));
  next_left_ += way;
  ++frame_;
  cv::Mat scene;
  const cv::Point2d middle(left_ + (kPanFrame.width - 1) / 2.0, (kPanFrame.height - 1) / 2.0);
  cv::getRectSubPix(shelf_.bgr, kPanFrame, cv::Point2f(middle), scene, CV_32F);
  move_blur(scene, {way / 4, 0});
  return exposed(scene, kPanNoise, static_cast<int>(std::lround(90 - 25 * kPanDifficulty)), rng_);
}

cv::Mat frame_without_labels(cv::Size size, const std::vector<LookAlike>& stock, cv::RNG& rng) {
  cv::Mat bench = cluttered_bench(rng, size);
  const int things = rng.uniform(1, 4);
  for (int i = 0; i < things; ++i) {
    const auto& thing = stock[static_cast<std::size_t>(rng.uniform(0, static_cast<int>(stock.size())))];
    const double scale = rng.uniform(0.2, 0.7) * size.height / std::max(thing.gray.cols, thing.gray.rows);
    const cv::Point2f middle(static_cast<float>(thing.gray.cols) / 2,
                             static_cast<float>(thing.gray.rows) / 2);
    cv::Mat way = cv::getRotationMatrix2D(middle, rng.uniform(0.0, 360.0), scale);
    way.at<double>(0, 2) += rng.uniform(0.2, 0.8) * size.width - middle.x;
    way.at<double>(1, 2) += rng.uniform(0.2, 0.8) * size.height - middle.y;
    cv::Mat coloured;
    cv::cvtColor(thing.gray, coloured, cv::COLOR_GRAY2BGR);
    cv::warpAffine(coloured, bench, way, size, cv::INTER_AREA, cv::BORDER_TRANSPARENT);
  }
  cv::Mat scene;
  bench.convertTo(scene, CV_32F, rng.uniform(0.4, 0.9), rng.uniform(5.0, 25.0));
  defocus(scene, rng.uniform(0.3, 1.2));
  return exposed(scene, rng.uniform(2.0, 12.0), rng.uniform(60, 93), rng);
}

}  // namespace loadlight::vision_tests
