#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"

namespace loadlight::vision_tests {
namespace {

constexpr int kWidth = 640;
constexpr int kHeight = 360;

// The motion is measured in frames reduced eightfold, to a quarter of their pixel; labels are put right by their
// own pictures.
constexpr double kShiftError = 2;

// A strip of twelve labels, three pixels a module.
CameraView strip() {
  cv::RNG rng(71);
  Harms harms;
  harms.module = 3;
  return shelf_view(6, 2, harms, rng, {1800, kHeight});
}

port::Frame frame_at(const cv::Mat& gray, int left, int number) {
  const cv::Mat part = gray(cv::Rect(left, 0, kWidth, kHeight)).clone();
  port::Frame frame;
  frame.picture = {kWidth, kHeight, {part.datastart, part.dataend}};
  frame.number = number;
  return frame;
}

struct Seen final {
  std::map<std::string, std::set<int>> tracks;  // of each text
  int firsts = 0;
  std::size_t lost = 0;
  port::SweepView last;
};

void see(port::Sweep& sweep, const port::Frame& frame, Seen& seen) {
  seen.last = sweep.see(frame);
  for (const auto& symbol : seen.last.symbols) {
    seen.tracks[symbol.text].insert(symbol.track);
    seen.firsts += symbol.first ? 1 : 0;
  }
  seen.lost += seen.last.lost.size();
}

}  // namespace

TEST_CASE("Every label of a sweep is read once and carried on one track while it is in view") {
  const auto view = strip();
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  for (int i = 0; i * 8 + kWidth <= view.gray.cols; ++i) {
    see(*sweep, frame_at(view.gray, i * 8, i + 1), seen);
    if (i > 0) {
      CHECK(seen.last.shift_x == Approx(-8).margin(kShiftError));
      CHECK(seen.last.shift_y == Approx(0).margin(kShiftError));
    }
  }
  CHECK(seen.last.module == Approx(3).margin(0.3));
  CHECK(seen.last.brightness > 20);
  for (const auto& symbol : view.symbols) CHECK(seen.tracks[symbol.text].size() == 1);
  CHECK(seen.firsts == static_cast<int>(view.symbols.size()));
}

TEST_CASE("A label carried on lies where it is") {
  const auto view = strip();
  const auto reader = vision::make_symbol_reader();
  const auto following = reader->begin_sweep({});
  Seen seen;
  for (int i = 0; i < 30; ++i) see(*following, frame_at(view.gray, i * 5, i + 1), seen);
  REQUIRE(!seen.last.symbols.empty());
  for (const auto& symbol : seen.last.symbols) {
    for (const auto& truth : view.symbols) {
      if (truth.text != symbol.text) continue;
      CHECK(symbol.corners[0].x == Approx(truth.corners[0].x - 29 * 5).margin(4));
      CHECK(symbol.corners[0].y == Approx(truth.corners[0].y).margin(4));
    }
  }
}

TEST_CASE("A frame shown again moves nothing and reads nothing anew") {
  const auto view = strip();
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  see(*sweep, frame_at(view.gray, 0, 1), seen);
  const int firsts = seen.firsts;
  REQUIRE(firsts > 0);
  for (int i = 0; i < 20; ++i) see(*sweep, frame_at(view.gray, 0, i + 2), seen);
  CHECK(seen.firsts == firsts);
  CHECK(std::abs(seen.last.shift_x) < kShiftError);
}

TEST_CASE("A label that left and came back, or a scene cut to and back, is a new track") {
  const auto view = strip();
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  see(*sweep, frame_at(view.gray, 0, 1), seen);
  see(*sweep, frame_at(view.gray, 1100, 2), seen);
  see(*sweep, frame_at(view.gray, 0, 3), seen);
  REQUIRE(!seen.last.symbols.empty());
  CHECK(seen.tracks[seen.last.symbols.front().text].size() == 2);
}

TEST_CASE("Two labels of one text side by side are two tracks") {
  auto view = strip();
  view.gray(cv::Rect(0, 0, 300, kHeight)).copyTo(view.gray(cv::Rect(300, 0, 300, kHeight)));
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  see(*sweep, frame_at(view.gray, 0, 1), seen);
  CHECK(seen.tracks[view.symbols.front().text].size() == 2);
}

TEST_CASE("Frames that stand apart are read each on its own") {
  const auto view = strip();
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  for (int i = 1; i <= 2; ++i) {
    auto frame = frame_at(view.gray, 0, i);
    frame.apart = true;
    see(*sweep, frame, seen);
    CHECK(seen.last.shift_x == 0);
  }
  REQUIRE(!seen.last.symbols.empty());
  for (const auto& symbol : seen.last.symbols) CHECK(seen.tracks[symbol.text].size() == 2);
}

TEST_CASE("An empty, a flat and a tiny frame are seen without a label") {
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  for (const int side : {0, 1, 3, 7, 9, 64, 600}) {
    port::Frame frame;
    frame.picture = {side, side, std::vector<std::uint8_t>(static_cast<std::size_t>(side * side), 90)};
    const auto view = sweep->see(frame);
    CHECK(view.symbols.empty());
    CHECK(view.lost.empty());
  }
  CHECK(sweep->end().symbols.empty());
}

}  // namespace loadlight::vision_tests
