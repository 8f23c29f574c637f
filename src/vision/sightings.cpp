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

void Sightings::add(const PassFindings& findings, const Origin& origin) {
  for (const auto& found : findings.read) {
    port::SymbolSighting sighting{found.text, placed(found.corners, origin.scale, origin.left, origin.top)};
    if (!seen(sighting)) read_.push_back(std::move(sighting));
  }
  for (const auto& found : findings.unread) {
    const auto place = placed(found, origin.scale, origin.left, origin.top);
    const auto same = [&](const Quadrilateral& other) { return same_place(other, place); };
    if (std::none_of(unread_.begin(), unread_.end(), same)) unread_.push_back(place);
  }
}

std::vector<Quadrilateral> Sightings::unread() const {
  std::vector<Quadrilateral> places;
  std::copy_if(unread_.begin(), unread_.end(), std::back_inserter(places),
               [&](const Quadrilateral& place) { return !read_at(place); });
  return places;
}

std::vector<port::SymbolSighting> Sightings::in_reading_order() const {
  auto ordered = read_;
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
  return std::any_of(read_.begin(), read_.end(), [&](const port::SymbolSighting& other) {
    return other.text == sighting.text && same_place(other.corners, sighting.corners);
  });
}

bool Sightings::read_at(const Quadrilateral& place) const {
  return std::any_of(read_.begin(), read_.end(),
                     [&](const port::SymbolSighting& other) { return same_place(other.corners, place); });
}

}  // namespace loadlight::vision
