#include "bench/frame_rows.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>
#include <set>

#include "vision/camera_view.h"
#include "vision/modelled_shelf.h"

namespace loadlight::bench {
namespace {

cv::Mat gray_of(const cv::Mat& bgr) {
  cv::Mat gray;
  cv::cvtColor(bgr, gray, cv::COLOR_BGR2GRAY);
  return gray;
}

std::vector<std::string> texts_of(const std::vector<vision_tests::ShelfLabel>& labels) {
  std::vector<std::string> texts;
  for (const auto& label : labels) texts.push_back(label.text);
  return texts;
}

struct ShelfGoal final {
  const char* name;
  double difficulty;
  double rate;  // percent
  double most_cost;
};
constexpr int kBoxes = 2;  // among the clutter of a frame
constexpr ShelfGoal kShelves[] = {{"shelf", 0, 99, 0.5}, {"shelf-hard", 0.6, 95, 0.5}};

struct PanGoal final {
  const char* name;
  double speed;  // pixels a frame
  double rate;   // percent
  double most_cost;
};
constexpr PanGoal kPans[] = {{"pan", 6, 98, 0.15}, {"pan-fast", 16, 92, 0.3}};

// What a sweep gathers over all frames, and what they cost.
struct Gathered final {
  Reading reading;
  double worst = 0;  // seconds of one frame
};

void gather(Gathered& gathered, std::vector<std::string> texts, double seconds) {
  gathered.reading.texts.insert(gathered.reading.texts.end(), texts.begin(), texts.end());
  gathered.reading.seconds += seconds;
  gathered.worst = std::max(gathered.worst, seconds);
}

void sweep_over(port::Sweep& sweep, const cv::Mat& gray, int number, Gathered& gathered) {
  port::Frame frame;
  frame.picture = {gray.cols, gray.rows, {gray.datastart, gray.dataend}};
  frame.number = number;
  frame.seconds = number / 30.0;
  const double start = program_seconds();
  const auto view = sweep.see(frame);
  const double taken = program_seconds() - start;
  std::vector<std::string> texts;
  for (const auto& symbol : view.symbols) texts.push_back(symbol.text);
  gather(gathered, texts, taken);
}

// What only the end of the sweep yields is told apart: no frame waits for it.
struct Rest final {
  int read = 0;
  double seconds = 0;
};

Rest rest_of(port::Sweep& sweep, const Gathered& gathered, const std::vector<std::string>& truth) {
  Rest rest;
  const double start = program_seconds();
  const auto view = sweep.end();
  rest.seconds = program_seconds() - start;
  const auto& before = gathered.reading.texts;
  for (const auto& symbol : view.symbols) {
    rest.read += std::count(truth.begin(), truth.end(), symbol.text) > 0 &&
                 std::count(before.begin(), before.end(), symbol.text) == 0;
  }
  return rest;
}

struct PanScores final {
  Score ours;
  Rest rest;
  Score zxing;
  int frames = 0;
};

PanScores measure_pan(double speed, std::uint64_t seed) {
  cv::RNG rng(seed);
  vision_tests::Pan pan(speed, rng);
  const auto sweep = our_reader().begin_sweep({});
  Gathered ours;
  Gathered zxing;
  PanScores scores;
  for (cv::Mat bgr = pan.next(); !bgr.empty(); bgr = pan.next()) {
    const auto gray = gray_of(bgr);
    sweep_over(*sweep, gray, ++scores.frames, ours);
    const auto plain = read_frame_with(Who::Zxing, vision_tests::view_of(gray));
    gather(zxing, plain.texts, plain.seconds);
  }
  scores.rest = rest_of(*sweep, ours, texts_of(pan.labels()));
  scores.ours.add(texts_of(pan.labels()), ours.reading);
  scores.zxing.add(texts_of(pan.labels()), zxing.reading);
  scores.ours.worst = ours.worst;
  return scores;
}

std::string verdict(bool met) {
  return met ? "met" : "**not met**";
}

}  // namespace

Scores shelf_scores(double difficulty, int frames, std::uint64_t seed) {
  Scores scores;
  for (int i = 0; i < frames; ++i) {
    cv::RNG rng(seed + static_cast<std::uint64_t>(i));
    const auto shelf = vision_tests::modelled_shelf({difficulty, 80, {3840, 2160}, 2, 4, kBoxes}, rng);
    const auto gray = gray_of(vision_tests::shelf_frame(shelf, difficulty, rng));
    for (const auto who : kEverybody)
      of(scores, who).add(texts_of(shelf.labels), read_frame_with(who, vision_tests::view_of(gray)));
  }
  return scores;
}

void print_shelf_goals(const Draw& draw, int frames) {
  print_head({"4K frame", "labels", "ours %", "95 %", "plain ZXing %", "zbar %", "wrong", "mean ms a frame",
              "worst ms", "cost in plain reads", "goal", ""});
  for (const auto& goal : kShelves) {
    if (!draw.only.empty() && draw.only != goal.name) continue;
    const auto scores = shelf_scores(goal.difficulty, frames, draw.seed);
    const auto& ours = of(scores, Who::Ours);
    const double cost = ours.seconds / std::max(1e-9, of(scores, Who::Zxing).seconds);
    print_row({goal.name, std::to_string(ours.tried), decimals(ours.rate(), 1), wilson(ours.read, ours.tried),
               decimals(of(scores, Who::Zxing).rate(), 1), decimals(of(scores, Who::Zbar).rate(), 1),
               std::to_string(ours.wrong), decimals(1000 * ours.seconds / frames, 0),
               decimals(1000 * ours.worst, 0), decimals(cost, 2),
               decimals(goal.rate, 0) + " %, at most " + decimals(goal.most_cost, 1) + " plain reads",
               verdict(ours.rate() >= goal.rate && cost <= goal.most_cost)});
  }
}

void print_sweep_goals(const Draw& draw) {
  print_head({"1080p pan", "frames", "labels", "ours", "plain ZXing on every frame", "ours %", "wrong",
              "mean ms a frame", "worst ms", "cost in plain reads", "more at the end", "ms there", "goal",
              ""});
  for (const auto& goal : kPans) {
    if (!draw.only.empty() && draw.only != goal.name) continue;
    const auto scores = measure_pan(goal.speed, draw.seed);
    const double cost = scores.ours.seconds / std::max(1e-9, scores.zxing.seconds);
    print_row({goal.name, std::to_string(scores.frames), std::to_string(scores.ours.tried),
               std::to_string(scores.ours.read), std::to_string(scores.zxing.read),
               decimals(scores.ours.rate(), 1), std::to_string(scores.ours.wrong),
               decimals(1000 * scores.ours.seconds / std::max(1, scores.frames), 1),
               decimals(1000 * scores.ours.worst, 0), decimals(cost, 3), std::to_string(scores.rest.read),
               decimals(1000 * scores.rest.seconds, 0),
               decimals(goal.rate, 0) + " %, at most " + decimals(goal.most_cost, 2),
               verdict(scores.ours.rate() >= goal.rate && cost <= goal.most_cost)});
  }
}

}  // namespace loadlight::bench
