#include "vision/module_trust.h"

#include <cmath>

#include "vision/module_tones.h"

namespace loadlight::vision {
namespace {

constexpr int kAround = 8;      // modules each way that tell what is usual
constexpr double kFlat = 0.2;   // of the contrast: what modules of one tone may differ by
constexpr double kBlown = 0.5;  // of the way from paper to the brightest there is
constexpr double kBrightest = 255;
constexpr double kBesideCovered = 0.35;
constexpr double kBesideBlown = 0.2;  // of what seems light there; nothing turns a light module dark
constexpr double kHalfTone = 0.25;    // of the contrast from black and from white: neither

class Trust final {
 public:
  explicit Trust(const ModulePlane& levels)
      : levels_(levels),
        tones_(tones_of(levels, ModulePlane{levels.side, 1}, kAround)),
        contrast_(usual_contrast(tones_)),
        covered_(levels.side),
        blown_(levels.side) {}

  ModulePlane run() {
    find_flat(4, false);
    find_flat(3, true);
    spread_covered();
    leave_out_covered();
    find_blown();
    return trust();
  }

 private:
  // Squares of `size` modules of one tone; `half_tone` ones only where that tone is neither black nor white.
  void find_flat(int size, bool half_tone) {
    for (int y = 0; y + size <= levels_.side; ++y) {
      for (int x = 0; x + size <= levels_.side; ++x) {
        if (is_flat(x, y, size) && (!half_tone || is_half_tone(x, y, size))) cover(x, y, size);
      }
    }
  }

  bool is_flat(int left, int top, int size) const {
    double least = levels_.at(left, top);
    double most = least;
    for (int y = top; y < top + size; ++y) {
      for (int x = left; x < left + size; ++x) {
        least = std::min(least, levels_.at(x, y));
        most = std::max(most, levels_.at(x, y));
      }
      if (most - least > kFlat * contrast_) return false;
    }
    return true;
  }

  bool is_half_tone(int left, int top, int size) const {
    const int x = left + size / 2;
    const int y = top + size / 2;
    const double level = levels_.at(x, y);
    return level > tones_.black.at(x, y) + kHalfTone * contrast_ &&
           level < tones_.white.at(x, y) - kHalfTone * contrast_;
  }

  void cover(int left, int top, int size) {
    for (int y = top; y < top + size; ++y) {
      for (int x = left; x < left + size; ++x) covered_.at(x, y) = 1;
    }
  }

  void leave_out_covered() {
    ModulePlane seen{levels_.side, 1};
    for (std::size_t i = 0; i < seen.values.size(); ++i) seen.values[i] -= covered_.values[i];
    tones_ = tones_of(levels_, seen, kAround);
  }

  void find_blown() {
    for (int y = 0; y < levels_.side; ++y) {
      for (int x = 0; x < levels_.side; ++x) {
        const double paper = tones_.white.at(x, y);
        if (levels_.at(x, y) > paper + std::max(3.0, kBlown * (kBrightest - paper))) blown_.at(x, y) = 1;
      }
    }
    drop_lone(blown_);
  }

  void drop_lone(ModulePlane& marked) const {
    const ModulePlane before = marked;
    for (int y = 0; y < marked.side; ++y) {
      for (int x = 0; x < marked.side; ++x) {
        int others = 0;
        each_neighbour(x, y, [&](int i, int j) { others += before.at(i, j) > 0; });
        if (others < 2) marked.at(x, y) = 0;
      }
    }
  }

  // To neighbours of the same tone: they may well lie under the same thing.
  void spread_covered() {
    for (int round = 0; round < 2; ++round) {
      const ModulePlane before = covered_;
      for (int y = 0; y < levels_.side; ++y) {
        for (int x = 0; x < levels_.side; ++x) {
          if (before.at(x, y) == 0 && touches_same_tone(before, x, y)) covered_.at(x, y) = 1;
        }
      }
    }
  }

  bool touches_same_tone(const ModulePlane& covered, int x, int y) const {
    int same = 0;
    each_neighbour(x, y, [&](int i, int j) {
      same += covered.at(i, j) > 0 && std::abs(levels_.at(i, j) - levels_.at(x, y)) < kFlat / 2 * contrast_;
    });
    return same >= 2;
  }

  template <typename Act>
  void each_neighbour(int x, int y, Act act) const {
    for (int j = y - 1; j <= y + 1; ++j) {
      for (int i = x - 1; i <= x + 1; ++i) {
        if ((i != x || j != y) && levels_.has(i, j)) act(i, j);
      }
    }
  }

  ModulePlane trust() const {
    ModulePlane trust{levels_.side, 1};
    for (int y = 0; y < levels_.side; ++y) {
      for (int x = 0; x < levels_.side; ++x) trust.at(x, y) = trust_at(x, y);
    }
    return trust;
  }

  double trust_at(int x, int y) const {
    if (covered_.at(x, y) > 0 || blown_.at(x, y) > 0) return 0;
    int covered = 0;
    int blown = 0;
    each_neighbour(x, y, [&](int i, int j) {
      covered += covered_.at(i, j) > 0;
      blown += blown_.at(i, j) > 0;
    });
    if (blown >= 2 && levels_.at(x, y) > tones_.middle(x, y)) return kBesideBlown;
    return covered > 0 ? kBesideCovered : 1;
  }

  const ModulePlane& levels_;
  ModuleTones tones_;
  double contrast_;
  ModulePlane covered_;
  ModulePlane blown_;
};

}  // namespace

ModulePlane trust_in(const ModulePlane& levels) {
  return Trust{levels}.run();
}

}  // namespace loadlight::vision
