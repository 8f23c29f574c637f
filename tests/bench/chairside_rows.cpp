#include "bench/chairside_rows.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <functional>
#include <memory>
#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"
#include "vision/lens.h"
#include "vision/modelled_label.h"

namespace loadlight::bench {
namespace {

const cv::Size kFrame{1280, 720};
constexpr int kFalling = 15;        // frames until it is sharp
constexpr int kFrames = 30;         // of a clip
constexpr double kComesFrom = 640;  // pixels left of where it comes to rest
constexpr double kMostDefocus = 5;  // sigma, pixels
constexpr double kTremble = 1.5;    // pixels, of the hand
constexpr double kExposure = 0.25;  // share of a frame's time
constexpr double kNoise = 3;        // grey levels
constexpr double kLensBlur = 0.5;   // sigma, pixels
constexpr double kContrast = 0.8;
constexpr int kQuality = 92;

double radians(double degrees) {
  return degrees * CV_PI / 180;
}

// The bench before the camera, and the label on it.
struct Scene final {
  cv::Mat bgr;  // CV_32FC3
  std::string text;
};

Scene drawn_scene(cv::RNG& rng) {
  const auto subject = vision_tests::label_subject({}, vision_tests::Around::Pouch, rng);
  vision_tests::Pose pose;
  pose.module = rng.uniform(4.0, 6.0);
  pose.turn = radians(rng.uniform(-180.0, 180.0));
  pose.tilt = radians(rng.uniform(0.0, 20.0));
  pose.tilt_axis = rng.uniform(0.0, CV_PI);
  pose.middle = {kFrame.width * rng.uniform(0.4, 0.6), kFrame.height * rng.uniform(0.45, 0.55)};
  Scene scene;
  scene.text = subject.text;
  const cv::Size wide(kFrame.width + static_cast<int>(kComesFrom) + 20, kFrame.height + 20);
  vision_tests::cluttered_bench(rng, wide).convertTo(scene.bgr, CV_32F, 0.85, 12);
  vision_tests::lay_subject(scene.bgr, subject, pose, vision_tests::kWhite - 255 * kContrast,
                            vision_tests::kWhite);
  return scene;
}

// How far right of its resting place the camera still looks, pixels.
double distance_at(int frame) {
  const double left = std::max(0.0, 1 - static_cast<double>(frame) / kFalling);
  return kComesFrom * left * left;
}

cv::Mat frame_of(const Scene& scene, int number, cv::RNG& rng) {
  const cv::Point2d rest(10 + (kFrame.width - 1) / 2.0, 10 + (kFrame.height - 1) / 2.0);
  const cv::Point2d tremble(rng.uniform(-kTremble, kTremble), rng.uniform(-kTremble, kTremble));
  const cv::Point2d middle = rest + tremble + cv::Point2d(distance_at(number), 0);
  cv::Mat seen;
  cv::getRectSubPix(scene.bgr, kFrame, cv::Point2f(middle), seen, CV_32F);
  const double falling = std::max(0.0, 1 - static_cast<double>(number) / kFalling);
  vision_tests::defocus(seen, std::hypot(kLensBlur, kMostDefocus * falling));
  vision_tests::move_blur(seen, {kExposure * (distance_at(number) - distance_at(number + 1)), 0});
  cv::Mat gray;
  cv::cvtColor(vision_tests::exposed(seen, kNoise, kQuality, rng), gray, cv::COLOR_BGR2GRAY);
  return gray;
}

// The texts that one frame shows.
using Eyes = std::function<std::vector<std::string>(const cv::Mat& gray, int number)>;

// As `check --camera` looks at each frame.
Eyes single_frames() {
  return [](const cv::Mat& gray, int) {
    const port::ReadBudget budget{std::chrono::milliseconds{300}, port::Effort::Quick, 2};
    std::vector<std::string> texts;
    for (const auto& each : our_reader().look(vision_tests::view_of(gray), budget).read)
      texts.push_back(each.text);
    return texts;
  };
}

Eyes sweep_over_frames() {
  return
      [sweep = std::shared_ptr<port::Sweep>(our_reader().begin_sweep({}))](const cv::Mat& gray, int number) {
        port::Frame frame;
        frame.picture = {gray.cols, gray.rows, {gray.datastart, gray.dataend}};
        frame.number = number + 1;
        frame.seconds = number / 30.0;
        std::vector<std::string> texts;
        for (const auto& symbol : sweep->see(frame).symbols) texts.push_back(symbol.text);
        return texts;
      };
}

struct Waiting final {
  double seconds =
      0;           // of processor time, spent on frames from the first sharp one on until the text is steady
  int frames = 0;  // so many of them; 0: it was steady before
  double worst = 0;  // seconds of one frame of the clip
  bool steady = false;
  bool wrong = false;
};

// The frames before `from` are not handed in.
Waiting wait_for(const std::vector<cv::Mat>& clip, const std::string& text, const Eyes& eyes, int from) {
  Waiting waiting;
  bool before = false;
  for (int i = from; i < static_cast<int>(clip.size()); ++i) {
    const double start = program_seconds();
    const auto texts = eyes(clip[static_cast<std::size_t>(i)], i);
    const double taken = program_seconds() - start;
    const bool here = std::count(texts.begin(), texts.end(), text) > 0;
    waiting.wrong = waiting.wrong ||
                    std::any_of(texts.begin(), texts.end(), [&](const auto& each) { return each != text; });
    waiting.worst = std::max(waiting.worst, taken);
    if (!waiting.steady && i >= kFalling) {
      waiting.seconds += taken;
      ++waiting.frames;
    }
    waiting.steady = waiting.steady || (here && before);
    before = here;
  }
  return waiting;
}

void print_waits(const char* name, const std::vector<Waiting>& waits) {
  std::vector<double> seconds;
  double worst_frame = 0;
  int before = 0;
  int never = 0;
  int wrong = 0;
  for (const auto& each : waits) {
    if (each.steady) seconds.push_back(each.seconds);
    worst_frame = std::max(worst_frame, each.worst);
    before += each.steady && each.frames == 0;
    never += !each.steady;
    wrong += each.wrong;
  }
  std::sort(seconds.begin(), seconds.end());
  const double median = seconds.empty() ? 0 : seconds[seconds.size() / 2];
  print_row({name, std::to_string(waits.size()), std::to_string(before), std::to_string(never),
             std::to_string(wrong), decimals(1000 * median, 1),
             decimals(seconds.empty() ? 0 : 1000 * seconds.back(), 1), decimals(1000 * worst_frame, 0)});
}

}  // namespace

void print_chairside(const Draw& draw, int clips) {
  print_head({"1280 x 720 clip", "clips", "steady before the first sharp frame", "never steady", "wrong",
              "median ms from the first sharp frame to a steady text", "worst ms", "worst ms of one frame"});
  constexpr const char* kNames[] = {"frame by frame, as check --camera",
                                    "the same, begun at the first sharp frame", "by a sweep",
                                    "the same, begun at the first sharp frame"};
  std::array<std::vector<Waiting>, 4> waits;
  for (int i = 0; i < clips; ++i) {
    cv::RNG rng(draw.seed + static_cast<std::uint64_t>(i));
    const Scene scene = drawn_scene(rng);
    std::vector<cv::Mat> clip;
    for (int number = 0; number < kFrames; ++number) clip.push_back(frame_of(scene, number, rng));
    for (std::size_t row = 0; row < waits.size(); ++row) {
      const Eyes eyes = row < 2 ? single_frames() : sweep_over_frames();
      waits[row].push_back(wait_for(clip, scene.text, eyes, row % 2 == 0 ? 0 : kFalling));
    }
  }
  for (std::size_t row = 0; row < waits.size(); ++row) print_waits(kNames[row], waits[row]);
}

}  // namespace loadlight::bench
