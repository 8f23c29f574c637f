// Whether the model is one that figures may be taken on: its peers have to come out as they did where the
// goals were measured.
#include <atomic>
#include <cmath>
#include <iostream>
#include <map>
#include <thread>

#include "bench/frame_rows.h"
#include "bench/harm_axis.h"
#include "bench/label_rows.h"
#include "vision/camera_view.h"

namespace loadlight::bench {
namespace {

using Draws = std::function<vision_tests::ModelledLabel(cv::RNG&)>;

constexpr double kNear = 0.10;     // of a value
constexpr double kNearPoints = 5;  // of a read rate

// Percent of the drawn labels that plain ZXing and zbar read.
struct Rates final {
  double zxing = 0;
  double zbar = 0;
  double of(Who who) const { return who == Who::Zbar ? zbar : zxing; }
};

Rates rates(const Draw& draw, const Draws& make) {
  std::atomic<int> next{0};
  std::atomic<int> zxing{0};
  std::atomic<int> zbar{0};
  const auto work = [&] {
    for (int i = next++; i < draw.labels; i = next++) {
      cv::RNG rng(draw.seed + static_cast<std::uint64_t>(i));
      const auto label = make(rng);
      const auto view = vision_tests::view_of(label.gray);
      Score one;
      one.add({label.truth.text}, read_with(Who::Zxing, std::span(&view, 1)));
      zxing += one.read;
      one = {};
      one.add({label.truth.text}, read_with(Who::Zbar, std::span(&view, 1)));
      zbar += one.read;
    }
  };
  std::jthread other(work);
  work();
  other.join();
  return {100.0 * zxing / draw.labels, 100.0 * zbar / draw.labels};
}

class Axis final {
 public:
  Axis(const HarmAxis& axis, const Draw& draw) : axis_(axis), draw_(draw) {}

  const Rates& at(double value) {
    const auto known = known_.find(value);
    if (known != known_.end()) return known->second;
    return known_[value] = rates(draw_, [&](cv::RNG& rng) {
             vision_tests::LabelHarms harms;
             harms.*axis_.value = value;
             return vision_tests::modelled_label(harms, rng);
           });
  }

  // The value at which the reader falls under 90 %, on the straight line between two steps of the sweep.
  double limit(Who who) {
    double before = axis_.sweep.front();
    for (const double value : axis_.sweep) {
      const double rate = at(value).of(who);
      if (rate < 90) return value + (before - value) * (90 - rate) / std::max(1e-9, at(before).of(who) - rate);
      before = value;
    }
    return before;
  }

 private:
  HarmAxis axis_;
  Draw draw_;
  std::map<double, Rates> known_;
};

bool print_one(const std::string& name, Who who, double here, double there, bool near,
               const std::string& more) {
  print_row({name, name_of(who), decimals(here, 3), decimals(there, 3), more, near ? "yes" : "**no**"});
  return near;
}

bool print_axis(const HarmAxis& axis, const Draw& draw) {
  Axis along(axis, draw);
  bool valid = true;
  for (const auto who : {Who::Zxing, Who::Zbar}) {
    const double there = who == Who::Zbar ? axis.zbar : axis.zxing;
    const double here = along.limit(who);
    const double rate = along.at(there).of(who);
    const bool near = std::abs(here / there - 1) <= kNear || std::abs(rate - 90) <= kNearPoints;
    valid &= print_one(axis.name, who, here, there, near,
                       decimals(100 * (here / there - 1), 0) + " %; reads " + decimals(rate, 0) + " % there");
  }
  return valid;
}

bool print_rates(const std::string& name, const Rates& here, const Rates& there) {
  bool valid = true;
  for (const auto who : {Who::Zxing, Who::Zbar}) {
    const double off = here.of(who) - there.of(who);
    valid &= print_one(name, who, here.of(who), there.of(who), std::abs(off) <= kNearPoints,
                       decimals(off, 0) + " points");
  }
  return valid;
}

bool wanted(const Draw& draw, const std::string& name) {
  return draw.only.empty() || draw.only == name;
}

bool print_mixtures(const Draw& draw) {
  bool valid = true;
  const auto mixed = [&](double difficulty) {
    return rates(draw,
                 [=](cv::RNG& rng) { return vision_tests::modelled_shots(difficulty, 1, rng).front(); });
  };
  if (wanted(draw, "all")) valid &= print_rates("all at 0.6, %", mixed(0.6), {45, 27});
  if (wanted(draw, "all")) valid &= print_rates("all at 0.75, %", mixed(0.75), {15, 10});
  const auto shelf = [&](double difficulty) {
    const auto scores = shelf_scores(difficulty, 2, draw.seed);
    return Rates{of(scores, Who::Zxing).rate(), of(scores, Who::Zbar).rate()};
  };
  if (wanted(draw, "shelf")) valid &= print_rates("4K frame easy, %", shelf(0), {20, 32});
  if (wanted(draw, "shelf")) valid &= print_rates("4K frame hard, %", shelf(0.6), {15, 2});
  return valid;
}

}  // namespace

bool print_validity(const Draw& draw) {
  print_head({"harm", "reader", "under 90 % here at", "expected", "off", "near enough"});
  bool valid = true;
  for (const auto& axis : harm_axes()) {
    if (wanted(draw, axis.name)) valid &= print_axis(axis, draw);
  }
  valid &= print_mixtures(draw);
  std::cout << "\nThe model is " << (valid ? "valid" : "not valid in every row") << ".\n\n";
  return valid;
}

}  // namespace loadlight::bench
