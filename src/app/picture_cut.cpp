#include "app/picture_cut.h"

#include <algorithm>
#include <cmath>

namespace loadlight::app {
namespace {

constexpr double kMargin = 0.5;  // of the place's width and height, on each side

// Whole pixels from `first` up to but without `last`.
struct Span final {
  int first = 0;
  int last = 0;
};

template <class Coordinate>
Span span_of(const port::Corners& place, int limit, Coordinate coordinate) {
  double low = coordinate(place[0]), high = low;
  for (const port::PixelPoint& corner : place) {
    low = std::min(low, coordinate(corner));
    high = std::max(high, coordinate(corner));
  }
  const double margin = (high - low) * kMargin;
  const auto inside = [limit](double value) { return static_cast<int>(std::clamp<double>(value, 0, limit)); };
  return {inside(std::floor(low - margin)), inside(std::ceil(high + margin))};
}

}  // namespace

PictureCut cut_around(port::GrayView picture, const port::Corners& place) {
  const Span across = span_of(place, picture.width, [](const port::PixelPoint& p) { return p.x; });
  const Span down = span_of(place, picture.height, [](const port::PixelPoint& p) { return p.y; });
  PictureCut cut;
  if (across.last <= across.first || down.last <= down.first) return cut;
  cut.picture.width = across.last - across.first;
  cut.picture.height = down.last - down.first;
  for (int y = down.first; y < down.last; ++y) {
    const std::uint8_t* row = picture.pixels + static_cast<std::ptrdiff_t>(y) * picture.stride;
    cut.picture.pixels.insert(cut.picture.pixels.end(), row + across.first, row + across.last);
  }
  for (std::size_t i = 0; i < place.size(); ++i) {
    cut.corners[i] = {place[i].x - across.first, place[i].y - down.first};
  }
  return cut;
}

PictureSize reduced_size(port::GrayView picture, int longest) {
  const double scale = std::min(1.0, static_cast<double>(longest) / std::max(picture.width, picture.height));
  const auto reduced = [scale](int side) { return std::max(1, static_cast<int>(std::lround(side * scale))); };
  return {reduced(picture.width), reduced(picture.height)};
}

}  // namespace loadlight::app
