#include "vision/symbol_anchors.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "vision/timing_count.h"

namespace loadlight::vision {
namespace {

constexpr double kAskew = 0.55;  // tangent of the angle an arm may stand off its finder's axis
constexpr int kLeastSide = 21;
constexpr int kMostSide = 177;

// The frame turned by quarters so that its right axis runs as nearly along `like`'s as it can.
LatticeFrame turned_like(LatticeFrame frame, const LatticeFrame& like) {
  LatticeFrame best = frame;
  double most = -1e9;
  for (int turn = 0; turn < 4; ++turn) {
    const auto right = like.direction(frame.right);
    const auto down = like.direction(frame.down);
    const double agreement = right.x / std::hypot(right.x, right.y) + down.y / std::hypot(down.x, down.y);
    if (agreement > most) {
      most = agreement;
      best = frame;
    }
    const LatticeFrame next = frame.quarter_turned();
    frame = next.moved_to(-7, 0);  // the origin stays at the pattern's own top left
  }
  return best;
}

std::array<LatticeFrame, 4> turns_of(LatticeFrame frame) {
  std::array<LatticeFrame, 4> turns;
  for (auto& turn : turns) {
    turn = frame;
    frame = frame.quarter_turned().moved_to(-7, 0);
  }
  return turns;
}

port::PixelPoint middle_of(const LatticeFrame& frame) {
  return frame.at(3.5, 3.5);
}

// From finder to finder, in modules as either of them measures it.
struct Arm final {
  LatticeFrame end;  // turned like the first
  double first = 0;  // modules along the arm
  double last = 0;
  double askew = 0;  // tangent
};

std::optional<Arm> arm_to(const LatticeFrame& from, const LatticeFrame& mark, bool across) {
  const LatticeFrame end = turned_like(mark, from);
  auto there = from.modules_at(middle_of(end));
  auto back = end.modules_at(middle_of(from));
  there = {there.x - 3.5, there.y - 3.5};
  back = {3.5 - back.x, 3.5 - back.y};
  if (!across) {
    std::swap(there.x, there.y);
    std::swap(back.x, back.y);
  }
  const Arm arm{end, there.x, back.x, std::abs(there.y / there.x) + std::abs(back.y / back.x)};
  if (!(there.x > 9) || !(back.x > 9) || there.x > 300 || back.x > 300) return std::nullopt;
  if (std::abs(there.y) > kAskew * there.x || std::abs(back.y) > kAskew * back.x) return std::nullopt;
  return arm;
}

// Sides a symbol may have whose arm measures so many modules, the likeliest first; a counted timing pattern
// goes before all.
std::vector<int> sides_of(double modules, std::span<const int> counted) {
  std::vector<int> sides(counted.begin(), counted.end());
  const int nearest = static_cast<int>(std::lround((modules + 7 - 17) / 4)) * 4 + 17;
  const int second = modules + 7 > nearest ? 4 : -4;
  for (const int side : {nearest, nearest + second, nearest - second}) sides.push_back(side);
  std::vector<int> kept;
  for (const int side : sides) {
    const bool fits = side >= kLeastSide && side <= kMostSide;
    if (fits && std::find(kept.begin(), kept.end(), side) == kept.end()) kept.push_back(side);
  }
  return kept;
}

// Nine points of a finder whose own top left is at (u, v).
void pin(std::vector<LatticePoint>& known, const LatticeFrame& frame, double u, double v) {
  for (const double y : {0.0, 3.5, 7.0}) {
    for (const double x : {0.0, 3.5, 7.0}) known.push_back({frame.at(x, y), u + x, v + y, 0.3});
  }
}

double unlike(double a, double b) {
  return std::abs(std::log(std::max(1e-3, a) / std::max(1e-3, b)));
}

double doubt(const FinderMark& mark) {
  return 1 - mark.likeness;
}

class Search final {
 public:
  Search(const cv::Mat& levels, std::span<const FinderMark> marks) : levels_(levels), marks_(marks) {}

  std::vector<AnchorSet> run() {
    for (std::size_t i = 0; i < marks_.size(); ++i) {
      for (const auto& corner : turns_of(marks_[i].frame)) from_corner(i, corner);
    }
    return std::move(found_);
  }

 private:
  struct End final {
    std::size_t mark;
    Arm arm;
  };

  void from_corner(std::size_t i, const LatticeFrame& corner) {
    std::vector<End> right;
    std::vector<End> down;
    for (std::size_t j = 0; j < marks_.size(); ++j) {
      if (j == i) continue;
      if (auto arm = arm_to(corner, marks_[j].frame, true)) right.push_back({j, *arm});
      if (auto arm = arm_to(corner, marks_[j].frame, false)) down.push_back({j, *arm});
      if (j > i) diagonal(i, j, corner);
    }
    for (const auto& one : right) {
      for (const auto& other : down) triple(i, corner, one, other);
      if (one.mark > i) pair(i, corner, one);
    }
  }

  void triple(std::size_t i, const LatticeFrame& corner, const End& right, const End& down) {
    auto counted = timing_sides(levels_, corner, right.arm.end, true);
    for (const int side : timing_sides(levels_, corner, down.arm.end, false)) counted.push_back(side);
    const double along = (right.arm.first + right.arm.last) / 2;
    const double below = (down.arm.first + down.arm.last) / 2;
    const double odd = unlike(along, below) + (right.arm.askew + down.arm.askew) / 2 + doubt(marks_[i]) +
                       doubt(marks_[right.mark]) + doubt(marks_[down.mark]);
    add(3, odd, (along + below) / 2, counted, [&](int side, std::vector<LatticePoint>& known) {
      pin(known, corner, 0, 0);
      pin(known, right.arm.end, side - 7, 0);
      pin(known, down.arm.end, 0, side - 7);
    });
  }

  // Two along one side; the symbol may lie on either hand.
  void pair(std::size_t i, const LatticeFrame& corner, const End& right) {
    const double along = (right.arm.first + right.arm.last) / 2;
    const double odd = right.arm.askew + doubt(marks_[i]) + doubt(marks_[right.mark]) +
                       unlike(right.arm.first, right.arm.last);
    for (const bool below : {true, false}) {
      const auto counted = timing_sides(levels_, corner, right.arm.end, true, below ? 6.5 : 0.5);
      add(2, odd, along, counted, [&](int side, std::vector<LatticePoint>& known) {
        pin(known, corner, 0, below ? 0 : side - 7);
        pin(known, right.arm.end, side - 7, below ? 0 : side - 7);
      });
    }
  }

  // Two in opposite corners.
  void diagonal(std::size_t i, std::size_t j, const LatticeFrame& corner) {
    const LatticeFrame end = turned_like(marks_[j].frame, corner);
    auto there = corner.modules_at(middle_of(end));
    auto back = end.modules_at(middle_of(corner));
    there = {there.x - 3.5, there.y - 3.5};
    back = {3.5 - back.x, 3.5 - back.y};
    if (!(std::min({there.x, there.y, back.x, back.y}) > 7)) return;
    if (unlike(there.x, there.y) > 0.6 || unlike(back.x, back.y) > 0.6) return;
    const double odd =
        (unlike(there.x, there.y) + unlike(back.x, back.y)) / 2 + doubt(marks_[i]) + doubt(marks_[j]);
    add(2, odd, (there.x + there.y + back.x + back.y) / 4, {},
        [&](int side, std::vector<LatticePoint>& known) {
          pin(known, corner, 0, 0);
          pin(known, end, side - 7, side - 7);
        });
  }

  template <typename Pin>
  void add(int finders, double oddness, double modules, std::span<const int> counted, Pin pin_all) {
    double later = 0;
    for (const int side : sides_of(modules, counted)) {
      AnchorSet set{side, {}, finders, oddness + later + (finders == 2 ? 0.8 : 0)};
      pin_all(side, set.known);
      found_.push_back(std::move(set));
      later += 0.35;
    }
  }

  const cv::Mat& levels_;
  std::span<const FinderMark> marks_;
  std::vector<AnchorSet> found_;
};

}  // namespace

std::vector<AnchorSet> likely_anchors(const cv::Mat& levels, std::span<const FinderMark> marks,
                                      std::size_t most) {
  auto found = Search{levels, marks}.run();
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.oddness < b.oddness; });
  if (found.size() > most) found.erase(found.begin() + static_cast<std::ptrdiff_t>(most), found.end());
  return found;
}

}  // namespace loadlight::vision
