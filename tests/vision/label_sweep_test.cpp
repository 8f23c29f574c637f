#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <opencv2/imgproc.hpp>
#include <set>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/modelled_shelf.h"

namespace loadlight::vision_tests {
namespace {

constexpr int kWidth = 640;
constexpr int kHeight = 360;

// The motion is measured in frames reduced eightfold, to a twentieth of their pixel.
constexpr double kShiftError = 0.5;
constexpr double kShiftErrorWhenSmall = 0.9;  // frames of 25 rows when reduced

// Percent of the labels.
constexpr int kSlowFloor = 96;
constexpr int kFastFloor = 94;
constexpr int kSmearedFloor = 8;  // labels of the strip's twelve

// A strip of twelve labels, three pixels a module.
CameraView strip() {
  cv::RNG rng(71);
  Harms harms;
  harms.module = 3;
  return shelf_view(6, 2, harms, rng, {1800, kHeight});
}

port::Frame frame_at(const cv::Mat& gray, cv::Rect window, int number) {
  const cv::Mat part = gray(window).clone();
  port::Frame frame;
  frame.picture = {part.cols, part.rows, {part.datastart, part.dataend}};
  frame.number = number;
  return frame;
}

port::Frame frame_at(const cv::Mat& gray, int left, int number) {
  return frame_at(gray, cv::Rect(left, 0, kWidth, kHeight), number);
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

// How many of a modelled shelf's labels are read in the first frames of a pan, of those that were wholly in
// view in at least `least_frames` of them.
struct PanCount final {
  int labels = 0;
  int read = 0;
};

bool is_in_view(const port::Corners& corners, double left) {
  return std::all_of(corners.begin(), corners.end(),
                     [&](const auto& corner) { return corner.x >= left && corner.x < left + 1920; });
}

PanCount read_pan(double speed, int frames, int least_frames) {
  cv::RNG rng(700003);  // of the seeds that readers are tuned and tested on; others are for reports
  Pan pan(speed, rng);
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  std::map<std::string, int> in_view;
  for (int i = 1; i <= frames; ++i) {
    cv::Mat gray;
    cv::cvtColor(pan.next(), gray, cv::COLOR_BGR2GRAY);
    port::Frame frame;
    frame.picture = {gray.cols, gray.rows, {gray.datastart, gray.dataend}};
    frame.number = i;
    see(*sweep, frame, seen);
    for (const auto& label : pan.labels())
      in_view[label.text] += is_in_view(label.corners, pan.left()) ? 1 : 0;
  }
  PanCount count;
  for (const auto& [text, times] : in_view) {
    if (times < least_frames) continue;
    ++count.labels;
    count.read += static_cast<int>(seen.tracks.count(text));
  }
  return count;
}

// Modules by lot over two fifths of the symbol, inside of its finders: no reader can tell them from its own.
void scramble(cv::Mat& gray, const port::Corners& corners) {
  const cv::Point from(static_cast<int>(corners[0].x + 0.27 * (corners[1].x - corners[0].x)),
                       static_cast<int>(corners[0].y + 0.27 * (corners[3].y - corners[0].y)));
  const cv::Point to(static_cast<int>(corners[0].x + 0.9 * (corners[1].x - corners[0].x)),
                     static_cast<int>(corners[0].y + 0.9 * (corners[3].y - corners[0].y)));
  cv::Mat part = gray(cv::Rect(from, to));
  cv::Mat modules(part.rows / 3, part.cols / 3, CV_8U);
  cv::RNG(5).fill(modules, cv::RNG::UNIFORM, 0, 2);
  cv::resize(modules * 180 + 30, part, part.size(), 0, 0, cv::INTER_NEAREST);
}

// The symbol's first finder, with its surroundings.
void cover_finder(cv::Mat& gray, const port::Corners& corners) {
  const cv::Point middle(static_cast<int>(0.905 * corners[0].x + 0.095 * corners[2].x),
                         static_cast<int>(0.905 * corners[0].y + 0.095 * corners[2].y));
  cv::circle(gray, middle, 12, cv::Scalar(120), cv::FILLED);
}

bool lies_at(const port::Corners& place, const port::Corners& label) {
  const double x = (place[0].x + place[2].x) / 2 - (label[0].x + label[2].x) / 2;
  const double y = (place[0].y + place[2].y) / 2 - (label[0].y + label[2].y) / 2;
  return std::hypot(x, y) < 20;
}

}  // namespace

// Floors, measured on this very shelf: they may only rise.
TEST_CASE("Of a modelled pan at 6 pixels a frame nearly every label is read") {
  const auto count = read_pan(6, 40, 15);
  CAPTURE(count.labels, count.read);
  CHECK(count.read * 100 >= count.labels * kSlowFloor);
}

TEST_CASE("Of a modelled pan at 16 pixels a frame nearly every label is read that stays for a calm frame") {
  const auto count = read_pan(16, 40, 18);
  CAPTURE(count.labels, count.read);
  CHECK(count.read * 100 >= count.labels * kFastFloor);
}

TEST_CASE("Labels that cannot be read are handed out where they were when they have left or the sweep ends") {
  auto view = strip();
  const std::vector<TrueSymbol> spoilt{view.symbols[3], view.symbols[8]};
  for (const auto& symbol : spoilt) scramble(view.gray, symbol.corners);
  const auto reader = vision::make_symbol_reader();
  for (const bool leave : {true, false}) {
    const auto sweep = reader->begin_sweep({});
    const int last = static_cast<int>(leave ? spoilt[0].corners[1].x + 60 : spoilt[1].corners[0].x - 100);
    std::vector<port::LostPlace> lost;
    const auto gather = [&](const port::SweepView& seen) {
      lost.insert(lost.end(), seen.lost.begin(), seen.lost.end());
    };
    for (int i = 0; i * 10 < last && i * 10 + kWidth <= view.gray.cols; ++i) {
      gather(sweep->see(frame_at(view.gray, i * 10, i + 1)));
    }
    if (!leave) CHECK(lost.empty());
    gather(sweep->end());
    REQUIRE(lost.size() == spoilt.size());
    CHECK(lost[0].track != lost[1].track);
    for (const auto& symbol : spoilt) {
      CHECK(std::any_of(lost.begin(), lost.end(), [&](const port::LostPlace& place) {
        auto corners = place.corners;
        for (auto& corner : corners) corner.x += (place.frame - 1) * 10;
        return lies_at(corners, symbol.corners) && place.picture.width > 40;
      }));
    }
  }
}

TEST_CASE("A label that only the end of a sweep reads is said to be read there for the first time") {
  auto view = strip();
  const auto& hidden = view.symbols[0];
  cover_finder(view.gray, hidden.corners);
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  for (int i = 0; i < 4; ++i) see(*sweep, frame_at(view.gray, i * 2, i + 1), seen);
  CAPTURE(seen.last.unread, seen.tracks.size());
  CHECK(!seen.tracks.empty());
  REQUIRE(seen.tracks.count(hidden.text) == 0);
  const auto rest = sweep->end();
  REQUIRE(rest.symbols.size() == 1);
  CHECK(rest.symbols[0].text == hidden.text);
  CHECK(rest.symbols[0].first);
  CHECK(rest.symbols[0].corners[0].x == Approx(hidden.corners[0].x - 6).margin(4));
  CHECK(rest.symbols[0].corners[0].y == Approx(hidden.corners[0].y).margin(4));
  CHECK(rest.lost.empty());
  CHECK(sweep->end().symbols.empty());
}

TEST_CASE("A pan that never slows is read though it smears over two modules") {
  auto view = strip();
  cv::blur(view.gray, view.gray, {7, 1});
  const auto reader = vision::make_symbol_reader();
  const auto sweep = reader->begin_sweep({});
  Seen seen;
  for (int i = 0; i * 12 + kWidth <= view.gray.cols; ++i)
    see(*sweep, frame_at(view.gray, i * 12, i + 1), seen);
  for (const auto& symbol : sweep->end().symbols) seen.tracks[symbol.text].insert(symbol.track);
  CAPTURE(seen.tracks.size());
  CHECK(static_cast<int>(seen.tracks.size()) >= kSmearedFloor);
}

TEST_CASE("How far the scene moved is told to a part of a pixel in frames of any size") {
  const auto view = strip();
  const auto reader = vision::make_symbol_reader();
  for (const cv::Size size : {cv::Size{641, 357}, {600, 300}, {487, 271}, {720, 203}}) {
    const auto sweep = reader->begin_sweep({});
    for (int i = 0; i < 8; ++i) {
      const auto seen = sweep->see(frame_at(view.gray, {{300 + i * 7, i % 2 == 0 ? 0 : 3}, size}, i + 1));
      if (i == 0) continue;
      CAPTURE(size.width, size.height, i);
      CHECK(seen.shift_x == Approx(-7).margin(kShiftErrorWhenSmall));
      CHECK(seen.shift_y == Approx(i % 2 == 0 ? 3 : -3).margin(kShiftErrorWhenSmall));
    }
  }
}

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
