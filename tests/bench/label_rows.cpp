#include "bench/label_rows.h"

#include <atomic>
#include <cmath>
#include <functional>
#include <iostream>
#include <mutex>
#include <opencv2/imgproc.hpp>
#include <thread>

#include "bench/harm_axis.h"
#include "vision/camera_view.h"
#include "vision/modelled_label.h"
#include "vision/modelled_shelf.h"

namespace loadlight::bench {
namespace {

using vision_tests::ModelledLabel;

struct Goal final {
  const char* name;
  const char* value;
  std::function<std::vector<ModelledLabel>(cv::RNG&)> draw;
  double rate;       // percent of labels read, at least
  double most_cost;  // plain reads; 0: any
};

std::function<std::vector<ModelledLabel>(cv::RNG&)> with(const char* harm, double value, int shots = 1) {
  return [harm, value, shots](cv::RNG& rng) {
    vision_tests::LabelHarms harms;
    set_harm(harms, harm, value);
    return vision_tests::modelled_shots(harms, shots, rng);
  };
}

std::function<std::vector<ModelledLabel>(cv::RNG&)> all_at(double difficulty, int shots = 1) {
  return [difficulty, shots](cv::RNG& rng) { return vision_tests::modelled_shots(difficulty, shots, rng); };
}

// A curl that recedes from the eye.
std::vector<ModelledLabel> curl_in_depth(cv::RNG& rng) {
  vision_tests::LabelHarms harms;
  harms.curl = 85;
  harms.deep = true;
  return vision_tests::modelled_shots(harms, 1, rng);
}

std::vector<ModelledLabel> all_in_depth(cv::RNG& rng) {
  return vision_tests::modelled_shots(0.6, 1, rng, true);
}

std::vector<ModelledLabel> tape_anywhere(cv::RNG& rng) {
  vision_tests::LabelHarms harms;
  harms.tape = 0.12;
  harms.tape_reach = 0.5;
  return vision_tests::modelled_shots(harms, 1, rng);
}

// The goals, as set before anything was measured. A least or most value counts as reached when 90 % are read.
const Goal kGoals[] = {
    {"module", "1.25 px", with("module", 1.25), 90, 6},
    {"contrast", "0.05", with("contrast", 0.05), 90, 6},
    {"noise", "75", with("noise", 75), 90, 6},
    {"defocus", "2.0 px", with("defocus", 2.0), 90, 6},
    {"curl", "85 degrees", with("curl", 85), 90, 0},
    {"curl-further", "100 degrees", with("curl", 100), 90, 0},
    {"curl-deep", "85 degrees, in depth", curl_in_depth, 90, 0},
    {"wrinkle", "0.35 module", with("wrinkle", 0.35), 90, 0},
    {"glare", "0.08", with("glare", 0.08), 90, 0},
    {"glare-burst", "0.25, four shots", with("glare", 0.25, 4), 90, 0},
    {"tape", "0.12", with("tape", 0.12), 90, 0},
    {"tape-anywhere", "0.12, over finders too", tape_anywhere, 90, 0},
    {"all", "difficulty 0.6", all_at(0.6), 70, 0},
    {"all-harder", "difficulty 0.75", all_at(0.75), 45, 0},
    {"all-deep", "difficulty 0.6, curls in depth", all_in_depth, 70, 0},
    {"all-burst", "difficulty 0.6, four shots", all_at(0.6, 4), 95, 0},
    {"clean", "no harm", with("module", 4), 99, 1},
};

std::vector<port::GrayView> views_of(const std::vector<ModelledLabel>& shots) {
  std::vector<port::GrayView> views;
  for (const auto& shot : shots) views.push_back(vision_tests::view_of(shot.gray));
  return views;
}

// Two labels at a time; every read on one thread.
template <class Work>
void two_at_a_time(int count, const Work& work) {
  std::atomic<int> next{0};
  const auto take = [&] {
    for (int i = next++; i < count; i = next++) work(i);
  };
  std::jthread other(take);
  take();
}

Scores measure(const Goal& goal, const Draw& draw) {
  Scores scores;
  std::mutex lock;
  two_at_a_time(draw.labels, [&](int i) {
    cv::RNG rng(draw.seed + static_cast<std::uint64_t>(i));
    const auto shots = goal.draw(rng);
    const auto views = views_of(shots);
    for (const auto who : kEverybody) {
      const auto reading = read_with(who, views);
      const std::lock_guard held(lock);
      of(scores, who).add({shots.front().truth.text}, reading);
    }
  });
  return scores;
}

void print_goal(const Goal& goal, const Scores& scores) {
  const auto& ours = of(scores, Who::Ours);
  const double cost = ours.mean() / std::max(1e-9, of(scores, Who::Zxing).mean());
  const bool met = ours.rate() >= goal.rate && (goal.most_cost == 0 || cost <= goal.most_cost);
  const auto limit =
      goal.most_cost == 0 ? std::string() : ", at most " + decimals(goal.most_cost, 0) + " plain reads";
  print_row({goal.name, goal.value, std::to_string(ours.tried), decimals(ours.rate(), 1),
             wilson(ours.read, ours.tried), decimals(of(scores, Who::Zxing).rate(), 1),
             decimals(of(scores, Who::Zbar).rate(), 1), std::to_string(ours.wrong),
             decimals(1000 * ours.mean(), 1), decimals(1000 * ours.worst, 0), decimals(cost, 2),
             decimals(goal.rate, 0) + " %" + limit, met ? "met" : "**not met**"});
}

}  // namespace

void print_label_goals(const Draw& draw) {
  print_head({"row", "value", "symbols", "ours %", "95 %", "plain ZXing %", "zbar %", "wrong", "mean ms",
              "worst ms", "cost in plain reads", "goal", ""});
  for (const auto& goal : kGoals) {
    if (draw.only.empty() || draw.only == goal.name) print_goal(goal, measure(goal, draw));
  }
}

namespace {

// Texts that are not the label's own, by ours and by plain ZXing.
struct WrongTexts final {
  std::atomic<int> ours{0};
  std::atomic<int> zxing{0};
};

void count_wrong(const std::vector<port::GrayView>& views, const std::string& truth, WrongTexts& wrong) {
  for (const auto who : {Who::Ours, Who::Zxing}) {
    for (const auto& text : read_with(who, views).texts) {
      if (text == truth) continue;
      (who == Who::Ours ? wrong.ours : wrong.zxing) += 1;
      std::cerr << name_of(who) << " read a wrong text: " << text << "\n";
    }
  }
}

void print_wrong(const char* what, int pictures, const WrongTexts& wrong) {
  print_row({what, std::to_string(pictures), std::to_string(wrong.ours), std::to_string(wrong.zxing), "0",
             wrong.ours == 0 ? "met" : "**not met**"});
}

}  // namespace

void print_wrong_texts(const Draw& draw, int frames) {
  print_head({"wrong texts among", "pictures", "ours", "plain ZXing", "goal", ""});
  cv::RNG first(draw.seed);
  const auto stock = vision_tests::look_alikes(first);
  WrongTexts of_frames;
  two_at_a_time(frames, [&](int i) {
    cv::RNG rng(draw.seed + static_cast<std::uint64_t>(i));
    const auto bgr = vision_tests::frame_without_labels({640, 480}, stock, rng);
    cv::Mat gray;
    cv::cvtColor(bgr, gray, cv::COLOR_BGR2GRAY);
    count_wrong({vision_tests::view_of(gray)}, "", of_frames);
  });
  print_wrong("frames without labels", frames, of_frames);
  WrongTexts of_labels;
  two_at_a_time(draw.labels, [&](int i) {
    cv::RNG rng(draw.seed + static_cast<std::uint64_t>(i));
    const auto shots = vision_tests::modelled_shots(rng.uniform(0.3, 0.9), 1, rng);
    count_wrong(views_of(shots), shots.front().truth.text, of_labels);
  });
  print_wrong("labels, difficulty 0.3 to 0.9", draw.labels, of_labels);
}

}  // namespace loadlight::bench
