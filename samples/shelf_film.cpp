// Films a modelled shelf of labelled pouches as somebody with a telephone would who sweeps along it: along
// one shelf, down, and back along the next. The same labels give the same film.
//
//   shelf_film FILM.mp4 [--shelf TAG.png] [--taped | --torn | --hidden] LABEL.png ...
//
// Pictures of labels and tags are taken to be at 300 dpi. --shelf begins a shelf with its tag; the others say
// what has befallen the next label. A film ending in .avi is motion JPEG, any other MPEG-4.

#include <cmath>
#include <cstdio>
#include <map>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/videoio.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shelf_scene.h"

namespace {

constexpr double kPictureDpi = 300;
constexpr int kWidth = 1280, kHeight = 720;  // of the film
constexpr double kFramesASecond = 25;
constexpr double kSpeed = 9;       // pixels a frame
constexpr int kShutterSteps = 3;   // views that a frame is the mean of
constexpr double kShutter = 0.25;  // of the time from frame to frame
constexpr double kGrain = 3.2;     // grey levels
constexpr int kRest = 12;          // frames at the beginning and the end

double width_mm(const cv::Mat& picture) {
  return picture.cols / kPictureDpi * 25.4;
}

std::optional<std::vector<shelf::Shelf>> read_shelves(const std::vector<std::string>& words) {
  const std::map<std::string_view, shelf::Harm> harms{
      {"--taped", shelf::Harm::Taped}, {"--torn", shelf::Harm::Torn}, {"--hidden", shelf::Harm::Hidden}};
  std::vector<shelf::Shelf> shelves;
  shelf::Harm harm = shelf::Harm::None;
  bool tag = false;
  for (const std::string& word : words) {
    if (harms.contains(word)) {
      harm = harms.at(word);
      continue;
    }
    if (tag || shelves.empty() || word == "--shelf") shelves.resize(shelves.size() + (tag ? 0 : 1));
    if (word == "--shelf") {
      tag = true;
      continue;
    }
    const cv::Mat picture = cv::imread(word, cv::IMREAD_COLOR);
    if (picture.empty()) {
      std::fprintf(stderr, "shelf_film: %s is not a picture\n", word.c_str());
      return std::nullopt;
    }
    if (tag) {
      shelves.back().tag = picture;
      shelves.back().tag_width_mm = width_mm(picture);
    } else {
      shelves.back().pouches.push_back({picture, width_mm(picture), harm});
      harm = shelf::Harm::None;
    }
    tag = false;
  }
  return shelves;
}

// Where a hand-held camera looks: the top left of its view, and how it is turned.
struct Gaze final {
  double x = 0, y = 0, degrees = 0;
};

// Slower and faster, up and down, as hands are.
Gaze shaken(Gaze gaze, double frame) {
  gaze.x += 5 * std::sin(frame * 0.21);
  gaze.y += 7 * std::sin(frame * 0.083 + 1) + 2 * std::sin(frame * 0.31);
  gaze.degrees += 0.7 * std::sin(frame * 0.047) + 0.2 * std::sin(frame * 0.19);
  return gaze;
}

void move_to(std::vector<Gaze>& way, double x, double y, double speed) {
  const Gaze from = way.back();
  const double length = std::hypot(x - from.x, y - from.y);
  const int steps = std::max(1, static_cast<int>(std::lround(length / speed)));
  for (int i = 1; i <= steps; ++i) {
    const double t = static_cast<double>(i) / steps;
    const double eased = t - 0.08 * std::sin(2 * CV_PI * t) / (2 * CV_PI);
    way.push_back({from.x + (x - from.x) * eased, from.y + (y - from.y) * eased, 0});
  }
}

std::vector<Gaze> way_along(std::size_t shelves, int scene_width) {
  const double right = scene_width - kWidth;
  std::vector<Gaze> way(kRest, Gaze{0, 0, 0});
  for (std::size_t i = 0; i < shelves; ++i) {
    const double y = static_cast<double>(i) * shelf::kShelfHeight;
    if (i > 0) move_to(way, way.back().x, y, 1.6 * kSpeed);
    move_to(way, i % 2 == 0 ? right : 0, y, kSpeed);
  }
  way.insert(way.end(), kRest, way.back());
  return way;
}

cv::Mat view_of(const cv::Mat& scene, const Gaze& gaze) {
  cv::Mat turn = cv::getRotationMatrix2D(
      {static_cast<float>(gaze.x + kWidth / 2.0), static_cast<float>(gaze.y + kHeight / 2.0)}, gaze.degrees,
      1.0);
  turn.at<double>(0, 2) -= gaze.x;
  turn.at<double>(1, 2) -= gaze.y;
  cv::Mat view;
  cv::warpAffine(scene, view, turn, {kWidth, kHeight}, cv::INTER_LINEAR, cv::BORDER_REFLECT);
  return view;
}

Gaze between(const Gaze& a, const Gaze& b, double t) {
  return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.degrees + (b.degrees - a.degrees) * t};
}

// What falls on the sensor while the shutter is open.
cv::Mat exposed(const cv::Mat& scene, const Gaze& from, const Gaze& to) {
  cv::Mat mean = view_of(scene, from);
  for (int i = 1; i < kShutterSteps; ++i) {
    const cv::Mat next = view_of(scene, between(from, to, kShutter * i / kShutterSteps));
    cv::addWeighted(mean, static_cast<double>(i) / (i + 1), next, 1.0 / (i + 1), 0, mean);
  }
  return mean;
}

// Darker towards the corners, a little out of focus, grainy.
class Lens final {
 public:
  Lens() : falloff_(kHeight, kWidth, CV_8UC3), grain_(2 * kHeight, 2 * kWidth, CV_8SC3) {
    for (int y = 0; y < kHeight; ++y) {
      for (int x = 0; x < kWidth; ++x) {
        const double r = std::hypot(x - kWidth / 2.0, y - kHeight / 2.0) / (kWidth / 2.0);
        falloff_.at<cv::Vec3b>(y, x) = cv::Vec3b::all(cv::saturate_cast<std::uint8_t>(255 - 33 * r * r));
      }
    }
    random_.fill(grain_, cv::RNG::NORMAL, 0, kGrain);
  }

  cv::Mat picture(cv::Mat light) {
    cv::GaussianBlur(light, light, {3, 3}, 0.55);
    cv::multiply(light, falloff_, light, 1 / 255.0);
    const cv::Rect piece{random_.uniform(0, kWidth), random_.uniform(0, kHeight), kWidth, kHeight};
    cv::Mat out;
    cv::add(light, grain_(piece), out, cv::noArray(), CV_8UC3);
    return out;
  }

 private:
  cv::Mat falloff_;
  cv::Mat grain_;  // a piece of it, elsewhere for each frame
  cv::RNG random_{20261125};
};

bool film(const std::string& path, const cv::Mat& scene, std::size_t shelves) {
  const bool avi = path.ends_with(".avi");
  const int codec =
      avi ? cv::VideoWriter::fourcc('M', 'J', 'P', 'G') : cv::VideoWriter::fourcc('m', 'p', '4', 'v');
  cv::VideoWriter writer{path, codec, kFramesASecond, {kWidth, kHeight}};
  if (!writer.isOpened()) return false;
  const std::vector<Gaze> way = way_along(shelves, scene.cols);
  Lens lens;
  for (std::size_t i = 0; i + 1 < way.size(); ++i) {
    const double frame = static_cast<double>(i);
    writer.write(lens.picture(exposed(scene, shaken(way[i], frame), shaken(way[i + 1], frame + 1))));
  }
  return true;
}

}  // namespace

int main(int count, char** values) {
  if (count < 3) {
    std::fputs("usage: shelf_film FILM.mp4 [--shelf TAG.png] [--taped|--torn|--hidden] LABEL.png ...\n",
               stderr);
    return 2;
  }
  const auto shelves = read_shelves({values + 2, values + count});
  if (!shelves || shelves->empty()) return 1;
  const cv::Mat scene = shelf::draw_shelves(*shelves, kWidth + 200);
  if (film(values[1], scene, shelves->size())) return 0;
  std::fprintf(stderr, "shelf_film: %s cannot be written\n", values[1]);
  return 1;
}
