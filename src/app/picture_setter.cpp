#include "app/picture_setter.h"

#include <algorithm>

#include "loadlight/report/mark_shape.h"

namespace loadlight::app {
namespace {

using core::Result;
using label::TextStyle;
using report::MarkedPicture;

// Millimetres.
constexpr double kAboveCaption = 0.8;
constexpr double kAfterPicture = 3;
constexpr double kGridGutter = 4;
constexpr double kMostGridHeight = 45;    // of a picture in a grid
constexpr double kMostEnlargement = 0.5;  // millimetres a pixel
constexpr double kEdge = 0.1;
constexpr double kThin = 0.22;  // a mark's thinnest stroke
constexpr double kHalo = 0.5;   // how much wider the white under a stroke is
constexpr double kPlate = 0.4;  // around a number
constexpr TextStyle kNumber{6.5, true, false};
constexpr TextStyle kCaption{7, false, false};

bool has_picture(const MarkedPicture& picture) {
  return !picture.jpeg.empty() && picture.width > 0 && picture.height > 0;
}

// A picture's place on the page, and from its pixels to there.
struct Place final {
  double x = 0, y = 0, scale = 0;  // millimetres, and millimetres a pixel

  std::pair<double, double> at(const report::MarkPoint& pixel) const {
    return {x + pixel.first * scale, y + pixel.second * scale};
  }
};

double scale_of(const MarkedPicture& picture, double width, double height) {
  if (!has_picture(picture)) return 0;
  return std::min({width / picture.width, height / picture.height, kMostEnlargement});
}

label::DrawnOutline drawn(const report::MarkStroke& stroke, const Place& place) {
  label::DrawnOutline outline;
  for (const report::MarkPoint& point : stroke.points) outline.points.push_back(place.at(point));
  outline.stroke = stroke.width * place.scale;
  for (const double length : stroke.dashes) outline.dashes.push_back(length * place.scale);
  return outline;
}

label::DrawnOutline halo_of(label::DrawnOutline outline) {
  outline.stroke += kHalo;
  outline.dashes.clear();
  outline.ink = label::Ink::White;
  return outline;
}

label::DrawnOutline white_box(double x, double y, double width, double height) {
  label::DrawnOutline box;
  box.points = {{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
  box.filled = true;
  box.ink = label::Ink::White;
  return box;
}

// The number on a white plate over the mark's top left corner, kept within the picture.
Result<void> draw_number(const report::PictureMark& mark, const report::MarkShape& shape, const Place& place,
                         const MarkedPicture& picture, PageFlow& flow) {
  const auto number = flow.set(mark.label, kNumber, 1000);
  if (!number) return number.failure();
  if (number->lines.empty()) return {};
  const double width = number->lines.front().width + 2 * kPlate, height = kNumber.em_mm() + kPlate;
  const auto [left, bottom] = place.at(shape.label);
  const double x = std::max(place.x, std::min(left, place.x + picture.width * place.scale - width));
  const double y = std::max(place.y, bottom - height);
  flow.page().items.emplace_back(white_box(x, y, width, height));
  draw_text(*number, x + kPlate, y, width, Side::Start, flow.page());
  return {};
}

Result<void> draw_marks(const MarkedPicture& picture, const Place& place, PageFlow& flow) {
  const report::MarkField field{static_cast<double>(picture.width), static_cast<double>(picture.height),
                                kThin / place.scale};
  for (const report::PictureMark& mark : picture.marks) {
    const report::MarkShape shape = report::mark_shape(mark.corners, mark.outcome, field);
    if (shape.strokes.empty()) continue;
    auto& items = flow.page().items;
    for (const auto& stroke : shape.strokes) items.emplace_back(halo_of(drawn(stroke, place)));
    for (const auto& stroke : shape.strokes) items.emplace_back(drawn(stroke, place));
    if (auto done = draw_number(mark, shape, place, picture, flow); !done) return done;
  }
  return {};
}

Result<void> draw_picture(const MarkedPicture& picture, const Place& place, PageFlow& flow) {
  if (!has_picture(picture)) return {};
  const double width = picture.width * place.scale, height = picture.height * place.scale;
  flow.page().items.emplace_back(
      label::DrawnPicture{place.x, place.y, width, height, picture.jpeg, picture.width, picture.height});
  flow.page().items.emplace_back(label::DrawnFrame{place.x, place.y, width, height, kEdge});
  return draw_marks(picture, place, flow);
}

// A picture of a row with its caption set.
struct Cell final {
  const MarkedPicture* picture = nullptr;
  SetText caption;
  double scale = 0;

  double picture_height() const { return picture->height * scale; }
};

Result<std::vector<Cell>> set_row(const report::PictureGrid& grid, std::size_t first, std::size_t end,
                                  double width, PageFlow& flow) {
  std::vector<Cell> row;
  for (std::size_t i = first; i < end; ++i) {
    auto caption = flow.set(grid.pictures[i].caption, kCaption, width);
    if (!caption) return caption.failure();
    row.push_back(
        {&grid.pictures[i], *std::move(caption), scale_of(grid.pictures[i], width, kMostGridHeight)});
  }
  return row;
}

Result<void> draw_row(const std::vector<Cell>& row, double width, PageFlow& flow) {
  double pictures = 0, captions = 0;
  for (const Cell& cell : row) {
    pictures = std::max(pictures, cell.picture_height());
    captions = std::max(captions, cell.caption.height());
  }
  const double height = pictures + kAboveCaption + captions;
  flow.make_room(height);
  double x = flow.left();
  for (const Cell& cell : row) {
    const Place place{x, flow.y() + pictures - cell.picture_height(), cell.scale};
    if (auto done = draw_picture(*cell.picture, place, flow); !done) return done;
    draw_text(cell.caption, x, flow.y() + pictures + kAboveCaption, width, Side::Start, flow.page());
    x += width + kGridGutter;
  }
  flow.move_down(height + kAfterPicture);
  return {};
}

}  // namespace

Result<void> place_picture(const MarkedPicture& picture, PageFlow& flow) {
  const auto caption = flow.set(picture.caption, kCaption, flow.width());
  if (!caption) return caption.failure();
  const double below = kAboveCaption + caption->height();
  // A heading may have to stand on the same page.
  const double room = flow.full_height() - below - 12;
  const Place at_origin{0, 0, scale_of(picture, flow.width(), room)};
  const double height = has_picture(picture) ? picture.height * at_origin.scale : 0;
  flow.make_room(height + below);
  if (auto done = draw_picture(picture, {flow.left(), flow.y(), at_origin.scale}, flow); !done) return done;
  draw_text(*caption, flow.left(), flow.y() + height + kAboveCaption, flow.width(), Side::Start, flow.page());
  flow.move_down(height + below + kAfterPicture);
  return {};
}

Result<void> place_grid(const report::PictureGrid& grid, PageFlow& flow) {
  const std::size_t abreast = std::max<std::size_t>(grid.abreast, 1);
  const double width =
      (flow.width() - kGridGutter * static_cast<double>(abreast - 1)) / static_cast<double>(abreast);
  for (std::size_t first = 0; first < grid.pictures.size(); first += abreast) {
    const std::size_t end = std::min(first + abreast, grid.pictures.size());
    const auto row = set_row(grid, first, end, width, flow);
    if (!row) return row.failure();
    if (auto done = draw_row(*row, width, flow); !done) return done;
  }
  return {};
}

}  // namespace loadlight::app
