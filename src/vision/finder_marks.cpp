#include "vision/finder_marks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "vision/levels.h"

namespace loadlight::vision {
namespace {

constexpr double kLeastLikeness = 0.45;
constexpr std::size_t kMostCandidates = 48;
constexpr int kRays = 24;

// 1 is dark: what a straight line from the middle of a finder pattern meets, in modules.
bool dark_at(double modules) {
  return modules < 1.5 || (modules >= 2.5 && modules < 3.5);
}

struct Candidate final {
  port::PixelPoint centre;
  double module = 0;  // pixels, along the line that found it
};

using Runs = std::array<int, 5>;

std::optional<double> module_of(const Runs& runs) {
  const double module = (runs[0] + runs[1] + runs[2] + runs[3] + runs[4]) / 7.0;
  const double slack = module * 0.7 + 0.6;
  for (std::size_t i = 0; i < 5; ++i) {
    if (std::abs(runs[i] - (i == 2 ? 3 : 1) * module) > (i == 2 ? 1.5 : 1) * slack) return std::nullopt;
  }
  return module;
}

void keep(std::vector<Candidate>& candidates, const Candidate& candidate) {
  for (auto& other : candidates) {
    const double apart = std::hypot(other.centre.x - candidate.centre.x, other.centre.y - candidate.centre.y);
    if (apart < 1.5 * std::max(other.module, candidate.module)) return;
  }
  candidates.push_back(candidate);
}

// Whether the pixels across a core, through its middle, also run 1:1:3:1:1; moves the middle to theirs.
bool crosses(const cv::Mat& dark, cv::Point& middle, cv::Point step, double most) {
  const cv::Rect whole({}, dark.size());
  std::array<std::array<int, 3>, 2> met{};
  for (std::size_t way = 0; way < 2; ++way) {
    cv::Point p = way == 0 ? middle : middle + step;
    for (std::size_t part = 0; part < 3; ++part) {
      while (whole.contains(p) && (dark.at<std::uint8_t>(p) != 0) == (part != 1)) {
        if (++met[way][part] > most) return false;
        p = way == 0 ? p - step : p + step;
      }
    }
  }
  if (!module_of({met[0][2], met[0][1], met[0][0] + met[1][0], met[1][1], met[1][2]})) return false;
  middle += step * ((met[1][0] - met[0][0] + 1) / 2);
  return true;
}

void examine(const cv::Mat& dark, cv::Point end, bool along_row, const Runs& runs,
             std::vector<Candidate>& candidates) {
  const auto module = module_of(runs);
  if (!module || candidates.size() >= kMostCandidates) return;
  const int back = runs[4] + runs[3] + (runs[2] + 1) / 2;
  cv::Point middle = along_row ? cv::Point{end.x - back, end.y} : cv::Point{end.x, end.y - back};
  if (!crosses(dark, middle, along_row ? cv::Point{0, 1} : cv::Point{1, 0}, 15 * *module)) return;
  keep(candidates, {{middle.x + 0.5, middle.y + 0.5}, *module});
}

void scan_line(const cv::Mat& dark, int line, bool along_row, std::vector<Candidate>& candidates) {
  const int length = along_row ? dark.cols : dark.rows;
  const auto is_dark = [&](int i) {
    return (along_row ? dark.at<std::uint8_t>(line, i) : dark.at<std::uint8_t>(i, line)) != 0;
  };
  Runs runs{};
  int start = 0;
  for (int i = 1; i <= length; ++i) {
    if (i < length && is_dark(i) == is_dark(i - 1)) continue;
    std::rotate(runs.begin(), runs.begin() + 1, runs.end());
    runs[4] = i - start;
    start = i;
    if (!is_dark(i - 1) || runs[0] == 0) continue;
    examine(dark, along_row ? cv::Point{i, line} : cv::Point{line, i}, along_row, runs, candidates);
  }
}

// What blur took from the contrast of single modules is given back, roughly.
cv::Mat sharpened(const cv::Mat& levels, double module) {
  constexpr double kGain = 2;
  cv::Mat smooth;
  cv::GaussianBlur(levels, smooth, {}, module * 0.9, module * 0.9, cv::BORDER_REPLICATE);
  return levels * (1 + kGain) - smooth * kGain;
}

std::vector<Candidate> candidates_in(const cv::Mat& levels, double module) {
  cv::Mat bytes;
  levels.convertTo(bytes, CV_8U);
  cv::Mat dark;
  const int around = static_cast<int>(module * 5) * 2 + 1;
  cv::adaptiveThreshold(bytes, dark, 255, cv::ADAPTIVE_THRESH_MEAN_C, cv::THRESH_BINARY_INV, around, 2);
  std::vector<Candidate> candidates;
  for (int y = 0; y < dark.rows; y += 2) scan_line(dark, y, true, candidates);
  for (int x = 0; x < dark.cols; x += 2) scan_line(dark, x, false, candidates);
  return candidates;
}

// How far one module reaches along one ray, and how like the pattern the ray is then.
struct Ray final {
  double reach = 0;
  double likeness = -1;
};

// Levels along a ray and their sums from the middle on.
class RayLevels final {
 public:
  RayLevels(const cv::Mat& levels, port::PixelPoint from, port::PixelPoint step, double length) {
    const int count = static_cast<int>(length / kStep) + 1;
    sums_.reserve(static_cast<std::size_t>(count) + 1);
    squares_.reserve(sums_.capacity());
    sums_.push_back(0);
    squares_.push_back(0);
    for (int i = 0; i < count; ++i) {
      const double along = (i + 0.5) * kStep;
      const double level = level_at(levels, from.x + step.x * along, from.y + step.y * along);
      sums_.push_back(sums_.back() + level);
      squares_.push_back(squares_.back() + level * level);
    }
  }

  // Correlation with the pattern if a module reaches `reach` pixels; the light surround is counted too.
  double likeness(double reach) const {
    constexpr double kDarkShare = 2.5 / kFurthest;
    const double all = kFurthest * reach;
    const double mean = until(sums_, all) / all;
    const double spread = std::sqrt(std::max(1e-6, until(squares_, all) / all - mean * mean));
    const double dark =
        (until(sums_, 1.5 * reach) + until(sums_, 3.5 * reach) - until(sums_, 2.5 * reach)) / all;
    return (mean * kDarkShare - dark) / (spread * std::sqrt(kDarkShare * (1 - kDarkShare)));
  }

  static constexpr double kFurthest = 4.3;  // modules

 private:
  static constexpr double kStep = 0.6;  // pixels

  static double until(const std::vector<double>& sums, double length) {
    const double at = std::min(length / kStep, static_cast<double>(sums.size()) - 1.001);
    const auto i = static_cast<std::size_t>(at);
    return (sums[i] + (sums[i + 1] - sums[i]) * (at - static_cast<double>(i))) * kStep;
  }

  std::vector<double> sums_;
  std::vector<double> squares_;
};

Ray best_ray(const cv::Mat& levels, const Candidate& candidate, port::PixelPoint step) {
  constexpr double kLongest = 2.6;  // of the module that was guessed
  const RayLevels along{levels, candidate.centre, step, candidate.module * kLongest * RayLevels::kFurthest};
  Ray best;
  for (double reach = candidate.module * 0.4; reach < candidate.module * kLongest; reach *= 1.1) {
    const double likeness = along.likeness(reach);
    if (likeness > best.likeness) best = {reach, likeness};
  }
  return best;
}

port::PixelPoint ray_direction(int i) {
  const double angle = 2 * std::numbers::pi * i / kRays;
  return {std::cos(angle), std::sin(angle)};
}

// A straight median of three neighbours: a ray that a speck misled.
void smooth(std::array<Ray, kRays>& rays) {
  const auto before = rays;
  for (std::size_t i = 0; i < kRays; ++i) {
    std::array<double, 3> three{before[(i + kRays - 1) % kRays].reach, before[i].reach,
                                before[(i + 1) % kRays].reach};
    std::sort(three.begin(), three.end());
    rays[i].reach = std::clamp(rays[i].reach, three[1] * 0.85, three[1] * 1.18);
  }
}

// The symmetric square root of a symmetric 2 x 2 matrix (a, b; b, d).
std::array<double, 3> root_of(double a, double b, double d) {
  const double s = std::sqrt(std::max(1e-12, a * d - b * b));
  const double t = std::sqrt(std::max(1e-12, a + d + 2 * s));
  return {(a + s) / t, b / t, (d + s) / t};
}

// The parallelogram whose outline the rays' ends lie on. Its second moments tell it but for a turn (a square
// has the same in all directions); the fourth harmonic of the outline tells the turn.
LatticeFrame frame_of(const std::array<Ray, kRays>& rays, port::PixelPoint centre) {
  double area = 0;
  double xx = 0;
  double xy = 0;
  double yy = 0;
  for (int i = 0; i < kRays; ++i) {
    const auto step = ray_direction(i);
    const double r = rays[static_cast<std::size_t>(i)].reach;
    area += r * r / 2;
    xx += r * r * r * r / 4 * step.x * step.x;
    xy += r * r * r * r / 4 * step.x * step.y;
    yy += r * r * r * r / 4 * step.y * step.y;
  }
  const auto [a, b, d] = root_of(3 * xx / area, 3 * xy / area, 3 * yy / area);
  const LatticeFrame white{centre, {a, b}, {b, d}};
  std::complex<double> harmonic;
  for (int i = 0; i < kRays; ++i) {
    const auto step = ray_direction(i);
    const double r = rays[static_cast<std::size_t>(i)].reach;
    const auto w = white.direction({step.x * r, step.y * r});
    const double length = std::hypot(w.x, w.y);
    const double weight = r * r / (length * length);  // the angle that the ray stands for there
    harmonic += std::polar(length * weight, 4 * std::atan2(w.y, w.x));
  }
  const double turn = std::arg(-harmonic) / 4;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  const LatticeFrame turned{centre, {a * c + b * s, b * c + d * s}, {-a * s + b * c, -b * s + d * c}};
  return turned.moved_to(-3.5, -3.5);
}

// One coordinate of the lattice as a straight function of the picture: k + x * dx + y * dy.
struct Slope final {
  cv::Matx33d normal = cv::Matx33d::zeros();
  cv::Vec3d right;

  void add(port::PixelPoint p, double value, double weight) {
    const cv::Vec3d row(1, p.x, p.y);
    normal += weight * row * row.t();
    right += weight * value * row;
  }
};

// The line of the pattern (0 to 7) nearest to an edge, if dark and light lie as there.
std::optional<double> line_near(double along, double across, double towards) {
  struct Line final {
    double at;
    double towards;  // where the light is
    double from;     // of the other coordinate
  };
  constexpr std::array<Line, 6> kLines{{{0, -1, 0}, {1, 1, 1}, {2, -1, 2}, {5, 1, 2}, {6, -1, 1}, {7, 1, 0}}};
  for (const auto& line : kLines) {
    const bool faces = towards * line.towards > 0;
    if (faces && std::abs(along - line.at) < 0.7 && across > line.from && across < 7 - line.from)
      return line.at;
  }
  return std::nullopt;
}

std::optional<LatticeFrame> frame_from(const Slope& u, const Slope& v) {
  if (cv::determinant(u.normal) < 1e-3 || cv::determinant(v.normal) < 1e-3) return std::nullopt;
  const cv::Vec3d a = u.normal.solve(u.right, cv::DECOMP_CHOLESKY);
  const cv::Vec3d b = v.normal.solve(v.right, cv::DECOMP_CHOLESKY);
  const double area = a[1] * b[2] - a[2] * b[1];
  if (std::abs(area) < 1e-6) return std::nullopt;
  const port::PixelPoint right{b[2] / area, -b[1] / area};
  const port::PixelPoint down{-a[2] / area, a[1] / area};
  return LatticeFrame{{-a[0] * right.x - b[0] * down.x, -a[0] * right.y - b[0] * down.y}, right, down};
}

std::vector<EdgePoint> edges_near(const LatticeFrame& frame, std::span<const EdgePoint> all) {
  const auto middle = frame.at(3.5, 3.5);
  const double across = 6 * (std::abs(frame.right.x) + std::abs(frame.down.x));
  const double along = 6 * (std::abs(frame.right.y) + std::abs(frame.down.y));
  std::vector<EdgePoint> near;
  for (const auto& edge : all) {
    if (std::abs(edge.at.x - middle.x) < across && std::abs(edge.at.y - middle.y) < along)
      near.push_back(edge);
  }
  return near;
}

// The frame moved onto the edges of the pattern.
LatticeFrame settled(LatticeFrame frame, std::span<const EdgePoint> all) {
  const auto edges = edges_near(frame, all);
  for (int round = 0; round < 4; ++round) {
    Slope u;
    Slope v;
    for (const auto& edge : edges) {
      const auto at = frame.modules_at(edge.at);
      if (at.x < -0.7 || at.x > 7.7 || at.y < -0.7 || at.y > 7.7) continue;
      const double across = edge.towards.x * frame.right.x + edge.towards.y * frame.right.y;
      const double along = edge.towards.x * frame.down.x + edge.towards.y * frame.down.y;
      if (std::abs(across) > 1.5 * std::abs(along)) {
        if (const auto line = line_near(at.x, at.y, across)) u.add(edge.at, *line, edge.weight);
      } else if (std::abs(along) > 1.5 * std::abs(across)) {
        if (const auto line = line_near(at.y, at.x, along)) v.add(edge.at, *line, edge.weight);
      }
    }
    const auto next = frame_from(u, v);
    const double growth = next ? next->determinant() / frame.determinant() : 0;
    if (growth < 0.4 || growth > 2.5) return frame;
    frame = *next;
  }
  return frame;
}

// Correlation with the pattern and one module around it.
double likeness_of(const cv::Mat& levels, const LatticeFrame& frame) {
  double sum = 0;
  double squares = 0;
  double darks = 0;
  double with = 0;
  for (int v = -1; v <= 7; ++v) {
    for (int u = -1; u <= 7; ++u) {
      const auto at = frame.at(u + 0.5, v + 0.5);
      const double level = level_at(levels, at.x, at.y);
      const bool dark = dark_at(std::max(std::abs(u - 3), std::abs(v - 3)));
      sum += level / 81;
      squares += level * level / 81;
      darks += dark / 81.0;
      with += dark ? level / 81 : 0;
    }
  }
  const double spread = std::sqrt(std::max(1e-6, squares - sum * sum));
  return (sum * darks - with) / (spread * std::sqrt(darks * (1 - darks)));
}

std::optional<FinderMark> mark_at(const cv::Mat& levels, const Candidate& candidate,
                                  std::span<const EdgePoint> edges) {
  std::array<Ray, kRays> rays;
  for (int i = 0; i < kRays; ++i) {
    rays[static_cast<std::size_t>(i)] = best_ray(levels, candidate, ray_direction(i));
  }
  const auto like =
      std::count_if(rays.begin(), rays.end(), [](const Ray& ray) { return ray.likeness > 0.5; });
  if (like < kRays / 2) return std::nullopt;
  smooth(rays);
  const auto rough = frame_of(rays, candidate.centre);
  if (!(rough.module() > 0.5)) return std::nullopt;
  const auto fine = settled(rough, edges);
  FinderMark mark{fine, likeness_of(levels, fine)};
  const double unsettled = likeness_of(levels, rough);
  if (unsettled > mark.likeness) mark = {rough, unsettled};
  if (mark.likeness < kLeastLikeness) return std::nullopt;
  return mark;
}

// Of two at one place the likelier.
void keep(std::vector<FinderMark>& marks, const FinderMark& mark) {
  const auto same = [&](const FinderMark& other) {
    const auto apart = other.frame.modules_at(mark.centre());
    return std::hypot(apart.x - 3.5, apart.y - 3.5) < 3;
  };
  const auto known = std::find_if(marks.begin(), marks.end(), same);
  if (known == marks.end()) {
    marks.push_back(mark);
  } else if (known->likeness < mark.likeness) {
    *known = mark;
  }
}

}  // namespace

std::vector<FinderMark> find_finder_marks(const cv::Mat& levels, double module,
                                          std::span<const port::PixelPoint> hints,
                                          std::span<const EdgePoint> edges, std::size_t most) {
  std::vector<FinderMark> marks;
  const auto look_at = [&](std::span<const Candidate> candidates) {
    for (const auto& candidate : candidates) {
      if (const auto mark = mark_at(levels, candidate, edges)) keep(marks, *mark);
    }
  };
  auto candidates = candidates_in(levels, module);
  for (const auto& hint : hints) keep(candidates, {hint, module});
  look_at(candidates);
  if (marks.size() < 3) look_at(candidates_in(sharpened(levels, module), module));
  std::stable_sort(marks.begin(), marks.end(),
                   [](const auto& a, const auto& b) { return a.likeness > b.likeness; });
  if (marks.size() > most) marks.erase(marks.begin() + static_cast<std::ptrdiff_t>(most), marks.end());
  return marks;
}

}  // namespace loadlight::vision
