#include "vision/sightings.h"

#include <algorithm>

namespace loadlight::vision {
namespace {

double centre_y(const port::SymbolSighting& sighting) {
  return centre_of(sighting.corners).y;
}
double centre_x(const port::SymbolSighting& sighting) {
  return centre_of(sighting.corners).x;
}

}  // namespace

std::size_t Sightings::add(const std::vector<port::SymbolSighting>& found, const Origin& origin) {
  const auto before = all_.size();
  for (const auto& symbol : found) {
    port::SymbolSighting sighting{symbol.text, placed(symbol.corners, origin.scale, origin.left, origin.top)};
    if (!seen(sighting)) all_.push_back(std::move(sighting));
  }
  return all_.size() - before;
}

bool Sightings::cover(port::PixelPoint point) const {
  return std::any_of(all_.begin(), all_.end(),
                     [&](const auto& sighting) { return contains(sighting.corners, point); });
}

bool Sightings::cover(const Quadrilateral& place) const {
  return std::any_of(all_.begin(), all_.end(),
                     [&](const auto& sighting) { return overlap(sighting.corners, place); });
}

std::vector<port::SymbolSighting> Sightings::in_reading_order() const {
  auto ordered = all_;
  std::stable_sort(ordered.begin(), ordered.end(),
                   [](const auto& a, const auto& b) { return centre_y(a) < centre_y(b); });
  for (auto row = ordered.begin(); row != ordered.end();) {
    const double lowest = centre_y(*row) + mean_side(row->corners) / 2;
    const auto end = std::find_if(row, ordered.end(), [&](const auto& s) { return centre_y(s) > lowest; });
    std::stable_sort(row, end, [](const auto& a, const auto& b) { return centre_x(a) < centre_x(b); });
    row = end;
  }
  return ordered;
}

bool Sightings::seen(const port::SymbolSighting& sighting) const {
  return std::any_of(all_.begin(), all_.end(), [&](const port::SymbolSighting& other) {
    return other.text == sighting.text && same_place(other.corners, sighting.corners);
  });
}

}  // namespace loadlight::vision
