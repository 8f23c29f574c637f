#include "shelf_scene.h"

#include <opencv2/imgproc.hpp>

#include "pouch_art.h"

namespace shelf {
namespace {

// Pixels of the shelf.
constexpr int kBoardTop = 640;      // where pouches stand
constexpr int kBoardEdge = 656;     // its front edge begins, down to the shelf's end
constexpr int kMargin = 270;        // before the first pouch and behind the last
constexpr double kOverlap = 0.015;  // of a pouch's width, that its neighbour covers

constexpr double kMostLean = 3.5;  // degrees

cv::Mat back_wall(cv::Size size, cv::RNG& random) {
  cv::Mat wall{size, CV_8UC3};
  for (int y = 0; y < size.height; ++y) {
    const double light = 0.62 + 0.3 * y / size.height;  // shaded by the board above
    wall.row(y) = cv::Scalar{190 * light, 196 * light, 200 * light};
  }
  shade(wall, 1 + smooth_field(size, 300, 0.02, random) + smooth_field(size, 2, 0.008, random));
  return wall;
}

// The board's top catches the light; its front edge is a strip of laminate with a groove.
void lay_board(cv::Mat& scene, cv::RNG& random) {
  cv::Mat top = scene.rowRange(kBoardTop - 12, kBoardEdge);
  top = cv::Scalar{206, 214, 220};
  cv::Mat edge = scene.rowRange(kBoardEdge, scene.rows);
  for (int y = 0; y < edge.rows; ++y) {
    const double light = 1 - 0.25 * y / edge.rows;
    edge.row(y) = cv::Scalar{168 * light, 178 * light, 186 * light};
  }
  cv::line(edge, {0, 2}, {edge.cols, 2}, {226, 232, 236}, 3);
  cv::line(edge, {0, edge.rows - 5}, {edge.cols, edge.rows - 5}, {96, 102, 108}, 4);
  shade(edge, 1 + smooth_field(edge.size(), 60, 0.015, random) + smooth_field(edge.size(), 2, 0.012, random));
}

void blend(cv::Mat& scene, const cv::Mat& bgr, const cv::Mat& alpha, const cv::Rect& place) {
  const cv::Rect seen = place & cv::Rect{{0, 0}, scene.size()};
  if (seen.empty()) return;
  const cv::Rect part = seen - place.tl();
  cv::Mat under = scene(seen);
  for (int y = 0; y < part.height; ++y) {
    for (int x = 0; x < part.width; ++x) {
      const double a = alpha.at<std::uint8_t>(part.y + y, part.x + x) / 255.0;
      const cv::Vec3b& over = bgr.at<cv::Vec3b>(part.y + y, part.x + x);
      cv::Vec3b& at = under.at<cv::Vec3b>(y, x);
      for (int c = 0; c < 3; ++c) at[c] = cv::saturate_cast<std::uint8_t>(at[c] * (1 - a) + over[c] * a);
    }
  }
}

// Darkens what lies behind the outline, further right and softer with the distance.
void cast_shadow(cv::Mat& scene, const cv::Mat& alpha, const cv::Rect& place) {
  for (const auto& [shift, softness, depth] : {std::tuple{7, 5.0, 0.34}, std::tuple{20, 16.0, 0.22}}) {
    cv::Mat soft;
    alpha.convertTo(soft, CV_8UC1, depth);
    cv::GaussianBlur(soft, soft, {}, softness);
    blend(scene, cv::Mat::zeros(alpha.size(), CV_8UC3), soft, place + cv::Point{shift, shift / 3});
  }
}

// Stands a pouch on the board with its lower left corner at about `x`, leaning a little. Yields its width.
int stand(cv::Mat& scene, const PouchArt& art, double x, double lean, double drop) {
  const double width = art.bgr.cols / kArtScale, height = art.bgr.rows / kArtScale;
  constexpr int kAround = 60;
  const cv::Size size{cvRound(width) + 2 * kAround, cvRound(height) + 2 * kAround};
  cv::Mat turn = cv::getRotationMatrix2D(
      {static_cast<float>(art.bgr.cols) / 2, static_cast<float>(art.bgr.rows)}, lean, 1 / kArtScale);
  turn.at<double>(0, 2) += size.width / 2.0 - art.bgr.cols / 2.0;
  turn.at<double>(1, 2) += size.height - kAround - art.bgr.rows;
  cv::Mat bgr, alpha;
  cv::warpAffine(art.bgr, bgr, turn, size, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  cv::warpAffine(art.alpha, alpha, turn, size, cv::INTER_LINEAR, cv::BORDER_CONSTANT, 0);
  const cv::Rect place{cvRound(x) - kAround, cvRound(kBoardTop + drop) - size.height + kAround, size.width,
                       size.height};
  cast_shadow(scene, alpha, place);
  blend(scene, bgr, alpha, place);
  return cvRound(width);
}

// The tag in its clear holder on the board's edge.
void hang_tag(cv::Mat& scene, const Shelf& shelf, double x) {
  if (shelf.tag.empty()) return;
  cv::Mat tag;
  const double scale = shelf.tag_width_mm * kPixelsPerMillimetre / shelf.tag.cols;
  cv::resize(shelf.tag, tag, {}, scale, scale, cv::INTER_AREA);
  tag.convertTo(tag, CV_8UC3, 0.84, 26);
  const int edge = 10;
  cv::Mat holder{tag.rows + 2 * edge, tag.cols + 2 * edge, CV_8UC3, cv::Scalar{216, 220, 222}};
  tag.copyTo(holder({edge, edge, tag.cols, tag.rows}));
  cv::rectangle(holder, {0, 0, holder.cols, holder.rows}, {150, 156, 160}, 2);
  const cv::Mat whole{holder.size(), CV_8UC1, cv::Scalar{255}};
  const cv::Rect place{cvRound(x), std::min(kBoardEdge + 6, scene.rows) - holder.rows, holder.cols,
                       holder.rows};
  cast_shadow(scene, whole, place);
  blend(scene, holder, whole, place);
}

std::vector<PouchArt> arts_of(const Shelf& shelf, cv::RNG& random) {
  std::vector<PouchArt> arts;
  for (const LabelledPouch& pouch : shelf.pouches) arts.push_back(draw_pouch(pouch, random));
  return arts;
}

double tag_width(const Shelf& shelf) {
  return shelf.tag.empty() ? 0 : shelf.tag_width_mm * kPixelsPerMillimetre + kMargin / 4.0;
}

int width_of(const Shelf& shelf, const std::vector<PouchArt>& arts) {
  double width = tag_width(shelf) + 2 * kMargin;
  for (const PouchArt& art : arts) width += art.bgr.cols / kArtScale * (1 + kOverlap);
  return cvRound(width);
}

cv::Mat draw_shelf(const Shelf& shelf, const std::vector<PouchArt>& arts, int width, bool tag_last,
                   cv::RNG& random) {
  cv::Mat scene = back_wall({width, kShelfHeight}, random);
  lay_board(scene, random);
  double x = kMargin / 4.0;
  if (!tag_last) {
    hang_tag(scene, shelf, x);
    x += tag_width(shelf);
  }
  for (std::size_t i = 0; i < arts.size(); ++i) {
    const double lean = random.uniform(-kMostLean, kMostLean);
    const int taken = stand(scene, arts[i], x, lean, random.uniform(0.0, 9.0));
    if (shelf.pouches[i].harm == Harm::Hidden) {
      stand(scene, draw_plain_pouch(random), x + 0.04 * taken, -2.2, 14);
    }
    x += taken * (1 - kOverlap) + random.uniform(0.0, 14.0);
  }
  if (tag_last) hang_tag(scene, shelf, x + kMargin / 4.0);
  return scene;
}

}  // namespace

cv::Mat draw_shelves(const std::vector<Shelf>& shelves, int least_width) {
  cv::RNG random{20261125};
  std::vector<std::vector<PouchArt>> arts;
  int width = least_width;
  for (const Shelf& shelf : shelves) {
    arts.push_back(arts_of(shelf, random));
    width = std::max(width, width_of(shelf, arts.back()));
  }
  std::vector<cv::Mat> rows;
  for (std::size_t i = 0; i < shelves.size(); ++i) {
    rows.push_back(draw_shelf(shelves[i], arts[i], width, i % 2 == 1, random));
  }
  cv::Mat scene;
  cv::vconcat(rows, scene);
  return scene;
}

}  // namespace shelf
