#include "vision/modelled_label.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/label_text.h"
#include "vision/lens.h"

namespace loadlight::vision_tests {
namespace {

constexpr double kPrintedBlack = 18;  // of the artwork, as pouch_art prints it
constexpr double kPrintedWhite = 248;
constexpr double kSamples = 7;          // a module, at least
constexpr double kFieldReach = 170;     // modules that a wrinkle field covers on each side
constexpr double kLookUpPitch = 0.75;   // modules from one place computed to the next
constexpr double kGlareSoftness = 0.2;  // sigma of a glare band's edge, modules

double radians(double degrees) {
  return degrees * CV_PI / 180;
}

// A rectangle of opaque tape somewhere on the symbol.
void stick_tape(PouchArt& art, double share, double farthest, cv::RNG& rng) {
  const double side = art.symbol_side * kArtPerModule;
  const double aspect = std::exp(rng.uniform(-0.7, 0.7));
  const cv::Size2f size(static_cast<float>(side * std::sqrt(share * aspect)),
                        static_cast<float>(side * std::sqrt(share / aspect)));
  const double angle = rng.uniform(0.0, 180.0);
  const double across = std::abs(std::cos(radians(angle)));
  const double along = std::abs(std::sin(radians(angle)));
  const double half = std::max(size.width * across + size.height * along,  // so that none of it hangs over
                               size.width * along + size.height * across) /
                      2;
  const double reach = std::clamp(side / 2 - half, 0.0, farthest * side);
  const cv::Point2d at(side / 2 + rng.uniform(-reach, reach), side / 2 + rng.uniform(-reach, reach));
  const double grey = rng.uniform(60.0, 220.0);
  if (share <= 0) return;
  const cv::RotatedRect tape(cv::Point2f(art.symbol_top_left + at), size, static_cast<float>(angle));
  cv::Point2f corners[4];
  tape.points(corners);
  std::vector<cv::Point> outline(corners, corners + 4);
  cv::fillConvexPoly(art.bgr, outline, {grey * 0.9, grey * 0.97, grey}, cv::LINE_AA);
}

// The part of the scene where any of the artwork shows, its sides multiples of `pitch`; it may reach beyond
// the scene by less than that.
cv::Rect footprint(const LabelSubject& subject, const LabelSurface& surface, cv::Size scene, double module,
                   int pitch) {
  constexpr int kSteps = 24;
  cv::Point2d least(1e9, 1e9);
  cv::Point2d most(-1e9, -1e9);
  for (int i = 0; i < (kSteps + 1) * (kSteps + 1); ++i) {
    const cv::Point2d art(subject.art.bgr.cols * (i % (kSteps + 1)) / static_cast<double>(kSteps),
                          subject.art.bgr.rows * (i / (kSteps + 1)) / static_cast<double>(kSteps));
    const cv::Point2d material = (art - subject.art.symbol_top_left) / kArtPerModule -
                                 cv::Point2d(1, 1) * (subject.art.symbol_side / 2.0);
    if (!surface.faces_the_eye(material)) continue;
    const auto at = surface.seen(material);
    least = {std::min(least.x, at.x), std::min(least.y, at.y)};
    most = {std::max(most.x, at.x), std::max(most.y, at.y)};
  }
  const double margin = 5 * module + 2;
  const cv::Point from(static_cast<int>(least.x - margin), static_cast<int>(least.y - margin));
  const cv::Point to(static_cast<int>(most.x + margin), static_cast<int>(most.y + margin));
  cv::Rect box = cv::Rect(from, to) & cv::Rect({}, scene);
  box.width = (box.width + pitch - 1) / pitch * pitch;
  box.height = (box.height + pitch - 1) / pitch * pitch;
  return box;
}

// Artwork coordinates and light over `box`, every `pitch` pixels: the surface is smooth.
struct LookUp final {
  cv::Mat where;  // CV_32FC2
  cv::Mat shade;  // CV_32F
};

LookUp look_up(const LabelSubject& subject, const LabelSurface& surface, cv::Rect box, int pitch) {
  const cv::Size size(box.width / pitch, box.height / pitch);
  LookUp found{cv::Mat(size, CV_32FC2), cv::Mat(size, CV_32F)};
  const cv::Point2d half = cv::Point2d(1, 1) * (subject.art.symbol_side / 2.0);
  for (int y = 0; y < size.height; ++y) {
    for (int x = 0; x < size.width; ++x) {
      const auto spot = surface.spot({box.x + (x + 0.5) * pitch, box.y + (y + 0.5) * pitch});
      const cv::Point2d art = spot ? (spot->material + half) * kArtPerModule + subject.art.symbol_top_left
                                   : cv::Point2d(-1e5, -1e5);
      found.where.at<cv::Point2f>(y, x) = cv::Point2f(art - cv::Point2d(0.5, 0.5));
      found.shade.at<float>(y, x) = spot ? static_cast<float>(spot->shade) : 1.0f;
    }
  }
  return found;
}

// Artwork and how much of each pixel it covers, averaged down from samples `finer` times a pixel.
struct Laid final {
  cv::Mat bgr;    // CV_8UC3
  cv::Mat cover;  // CV_8U, 255 whole
};

Laid laid(const cv::Mat& art, const cv::Mat& where, cv::Size size, double finer) {
  cv::Mat fine;
  cv::resize(where, fine, size * static_cast<int>(finer), 0, 0, cv::INTER_LINEAR);
  Laid result;
  result.cover = cv::Mat(art.size(), CV_8U, cv::Scalar(255));
  cv::remap(art, result.bgr, fine, {}, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  cv::remap(result.cover, result.cover, fine, {}, cv::INTER_NEAREST, cv::BORDER_CONSTANT);
  cv::resize(result.bgr, result.bgr, size, 0, 0, cv::INTER_AREA);
  cv::resize(result.cover, result.cover, size, 0, 0, cv::INTER_AREA);
  return result;
}

cv::Point2d jittered(cv::Point2d point, double by, cv::RNG& rng) {
  return point + cv::Point2d(rng.uniform(-by, by), rng.uniform(-by, by));
}

Pose any_pose(const LabelHarms& harms, cv::RNG& rng) {
  Pose pose;
  pose.module = harms.module;
  pose.turn = rng.uniform(0.0, 2 * CV_PI);
  pose.tilt = radians(harms.tilt);
  pose.tilt_axis = rng.uniform(0.0, 2 * CV_PI);
  pose.middle = jittered({kLabelFrameWidth / 2.0, kLabelFrameHeight / 2.0}, 24, rng);
  return pose;
}

// The same hand a moment later.
Pose moved_a_little(const Pose& pose, cv::RNG& rng) {
  Pose moved = pose;
  moved.module *= rng.uniform(0.96, 1.04);
  moved.turn += radians(rng.uniform(-5.0, 5.0));
  moved.tilt = std::max(0.0, moved.tilt + radians(rng.uniform(-3.0, 3.0)));
  moved.tilt_axis += radians(rng.uniform(-15.0, 15.0));
  moved.middle = jittered(moved.middle, 6, rng);
  return moved;
}

cv::Mat bench_scene(double contrast, cv::RNG& rng) {
  cv::Mat scene;
  const double scale = contrast * 255 / (kPrintedWhite - kPrintedBlack);
  cluttered_bench(rng, {kLabelFrameWidth, kLabelFrameHeight})
      .convertTo(scene, CV_32F, scale, kWhite - scale * kPrintedWhite);
  return scene;
}

ModelledLabel shot(const LabelSubject& subject, const Pose& pose, const LabelHarms& harms,
                   const cv::Mat& bench, cv::RNG& rng) {
  cv::Mat scene = bench.clone();
  lay_subject(scene, subject, pose, kWhite - 255 * harms.contrast, kWhite);
  tint_half(scene, pose.middle, harms.tint, rng);
  defocus(scene, std::hypot(harms.base_blur, harms.defocus));
  const double way = rng.uniform(0.0, CV_PI);
  move_blur(scene, cv::Vec2d(std::cos(way), std::sin(way)) * harms.motion);
  const double side = subject.art.symbol_side * pose.module;
  const double off = 0.3 * side * std::sqrt(rng.uniform(0.0, 1.0));
  const double to = rng.uniform(0.0, 2 * CV_PI);
  blow_out(scene, pose.middle + cv::Point2d(std::cos(to), std::sin(to)) * off, harms.glare * side,
           kGlareSoftness * pose.module, rng);
  ModelledLabel label;
  label.bgr = exposed(scene, harms.noise, harms.jpeg, rng);
  cv::cvtColor(label.bgr, label.gray, cv::COLOR_BGR2GRAY);
  label.truth = truth_of(subject, pose);
  label.truth.harms = harms;
  return label;
}

// What a moment decides, from `moment`; the rest from `harms`.
LabelHarms with_moment(LabelHarms harms, const LabelHarms& moment) {
  harms.defocus = moment.defocus;
  harms.motion = moment.motion;
  harms.glare = moment.glare;
  harms.noise = moment.noise;
  return harms;
}

template <class HarmsOfShot>
std::vector<ModelledLabel> shots(const LabelHarms& harms, int count, cv::RNG& rng,
                                 const HarmsOfShot& of_shot) {
  const auto subject = label_subject(harms, Around::Pouch, rng);
  const auto pose = any_pose(harms, rng);
  const auto bench = bench_scene(harms.contrast, rng);
  std::vector<ModelledLabel> all;
  for (int i = 0; i < count; ++i)
    all.push_back(shot(subject, i == 0 ? pose : moved_a_little(pose, rng), of_shot(), bench, rng));
  return all;
}

}  // namespace

LabelHarms all_at_once(double d, cv::RNG& rng) {
  LabelHarms harms;
  harms.module = (5 - 2.8 * d) * rng.uniform(0.9, 1.1);
  harms.tilt = rng.uniform(0.0, 10 + 40 * d);
  harms.curl = rng.uniform(0.0, 80 * d);
  harms.wrinkle = rng.uniform(0.0, 0.45 * d);
  harms.defocus = rng.uniform(0.1, 0.12 + 0.35 * d) * harms.module;
  harms.motion = rng.uniform(0.0, 0.9 * d) * harms.module;
  harms.glare = rng.uniform(0.02, 0.12) * (rng.uniform(0.0, 1.0) < 0.6 * d);
  harms.contrast = 0.8 - (0.8 - 0.22) * d * rng.uniform(0.6, 1.0);
  harms.noise = rng.uniform(3.0, 12.0);
  harms.jpeg = static_cast<int>(std::lround(92 - rng.uniform(0.0, 37.0)));
  harms.tape = rng.uniform(0.01, 0.06) * (rng.uniform(0.0, 1.0) < 0.3 * d);
  harms.tint = rng.uniform(0.0, 0.6 * d);
  return harms;
}

LabelSubject label_subject(const LabelHarms& harms, Around around, cv::RNG& rng) {
  LabelSubject subject;
  const auto form = label_form(rng);
  subject.text = label_text(form, rng);
  subject.modules = drawn_symbol(subject.text, form.version, form.level);
  subject.art = label_art_around(subject.modules, rng);
  if (around == Around::Pouch) subject.art = on_pouch(subject.art, rng);
  stick_tape(subject.art, harms.tape, harms.tape_reach, rng);
  subject.shape.side = subject.art.symbol_side;
  subject.shape.curl = radians(harms.curl);
  subject.shape.deep = harms.deep;
  subject.shape.curl_axis = rng.uniform(0.0, CV_PI);
  if (harms.wrinkle > 0) subject.shape.wrinkle = wrinkle_field(harms.wrinkle, kFieldReach, rng);
  return subject;
}

void lay_subject(cv::Mat& scene, const LabelSubject& subject, const Pose& pose, double dark, double light) {
  const LabelSurface surface(subject.shape, pose);
  const int pitch = std::max(1, static_cast<int>(kLookUpPitch * pose.module));
  const auto box = footprint(subject, surface, scene.size(), pose.module, pitch);
  const auto part = box & cv::Rect({}, scene.size());
  if (part.empty()) return;
  auto found = look_up(subject, surface, box, pitch);
  cv::resize(found.shade, found.shade, box.size(), 0, 0, cv::INTER_LINEAR);
  const auto over =
      laid(subject.art.bgr, found.where, box.size(), std::max(2.0, std::ceil(kSamples / pose.module)));
  const auto scale = static_cast<float>((light - dark) / (kPrintedWhite - kPrintedBlack));
  const auto base = static_cast<float>(dark - scale * kPrintedBlack);
  for (int y = part.y; y < part.br().y; ++y) {
    auto* row = scene.ptr<cv::Vec3f>(y);
    for (int x = part.x; x < part.br().x; ++x) {
      const cv::Point at = cv::Point(x, y) - box.tl();
      const float share = static_cast<float>(over.cover.at<std::uint8_t>(at)) / 255;
      const cv::Vec3f print = cv::Vec3f(over.bgr.at<cv::Vec3b>(at)) * scale + cv::Vec3f::all(base);
      row[x] = row[x] * (1 - share) + print * (share * found.shade.at<float>(at));
    }
  }
}

LabelTruth truth_of(const LabelSubject& subject, const Pose& pose) {
  const LabelSurface surface(subject.shape, pose);
  const int side = subject.art.symbol_side;
  LabelTruth truth;
  truth.text = subject.text;
  truth.modules = subject.modules;
  for (int i = 0; i < (side + 1) * (side + 1); ++i) {
    const auto at = surface.seen({i % (side + 1) - side / 2.0, i / (side + 1) - side / 2.0});
    truth.nodes.push_back({at.x, at.y});
  }
  truth.corners = {truth.node(0, 0), truth.node(side, 0), truth.node(side, side), truth.node(0, side)};
  return truth;
}

ModelledLabel modelled_label(const LabelHarms& harms, cv::RNG& rng) {
  return shots(harms, 1, rng, [&] { return harms; }).front();
}

std::vector<ModelledLabel> modelled_shots(const LabelHarms& harms, int count, cv::RNG& rng) {
  return shots(harms, count, rng, [&] { return harms; });
}

std::vector<ModelledLabel> modelled_shots(double difficulty, int count, cv::RNG& rng, bool deep) {
  auto harms = all_at_once(difficulty, rng);
  harms.deep = deep;
  return shots(harms, count, rng, [&] { return with_moment(harms, all_at_once(difficulty, rng)); });
}

}  // namespace loadlight::vision_tests
