#include "app/lost_places.h"

#include "app/picture_cut.h"

namespace loadlight::app {
namespace {

constexpr int kLongestSide = 480;  // pixels of an unreadable symbol's picture

// The packages that a lost place may be, and their symbols as they were printed.
struct Candidates final {
  std::vector<core::PackageId> ids;
  std::vector<core::SymbolGrid> grids;
};

core::Result<void> add_places(const port::Unit& unit, const port::SymbolEncoder& encoder,
                              const std::vector<std::string>& places, Candidates& candidates) {
  for (const std::string& place : places) {
    const auto packages = unit.packages().at_location(place);
    if (!packages) return packages.failure();
    for (const core::Package& package : *packages) {
      const core::SymbolForm& form = package.symbol;
      auto grid = encoder.encode(package.payload, form.version, form.level, form.mask);
      if (!grid) continue;  // it cannot be told, and stays a picture for a person
      candidates.ids.push_back(package.id);
      candidates.grids.push_back(std::move(*grid));
    }
  }
  return {};
}

UnreadableSymbol for_a_person(const port::LostPlace& place, const port::PictureSource& pictures) {
  const PictureSize size = reduced_size(place.picture.view(), kLongestSide);
  return {place.frame, place.file, place.corners, pictures.jpeg(place.picture.view(), kLongestSide),
          size.width,  size.height};
}

void count_sighting(SeenLabel& label, const port::LostPlace& place, const std::string& location) {
  ++label.sightings;
  if (label.sightings > 1) return;
  label.first_frame = label.last_frame = place.frame;
  label.first_file = place.file;
  label.corners = place.corners;
  label.seen_at = location;
}

// The label that was read of this package, or the one that the record tells.
SeenLabel& label_of(SeenLabels& seen, const core::PackageId& id) {
  for (SeenLabel& label : seen.all()) {
    if (label.id == id && !label.reply.verdict.has(core::Reason::LabelNotAuthentic)) return label;
  }
  return seen.of_match(id);
}

}  // namespace

void LostPlaces::add(port::LostPlace place, const std::string& location) {
  const std::size_t pixels = place.picture.pixels.size();
  if (kept_.size() >= kMostKept || pixels_ + pixels > kMostPixels) {
    ++beyond_;
    return;
  }
  pixels_ += pixels;
  kept_.push_back({std::move(place), location});
}

void LostPlaces::add(const port::Frame& frame, const std::vector<port::Corners>& unread,
                     const std::string& location) {
  for (const port::Corners& corners : unread) {
    PictureCut cut = cut_around(frame.picture.view(), corners);
    if (cut.picture.pixels.empty()) continue;
    add({0, frame.number, frame.file, corners, std::move(cut.picture), cut.corners}, location);
  }
}

core::Result<std::vector<UnreadableSymbol>> LostPlaces::tell(const port::Unit& unit, const AuditEyes& eyes,
                                                             const std::vector<std::string>& places,
                                                             SeenLabels& seen) {
  std::vector<UnreadableSymbol> unreadable;
  if (kept_.empty()) return unreadable;
  Candidates candidates;
  const auto added = add_places(unit, eyes.encoder, places, candidates);
  if (!added) return added.failure();
  for (const Kept& kept : kept_) {
    const port::LostPlace& place = kept.place;
    const auto match = candidates.grids.empty()
                           ? std::nullopt
                           : eyes.reader.match(place.picture.view(), place.in_picture, candidates.grids);
    if (match && match->candidate < candidates.ids.size() &&
        core::is_certain_match(match->over_second, match->over_chance)) {
      count_sighting(label_of(seen, candidates.ids[match->candidate]), place, kept.location);
    } else {
      unreadable.push_back(for_a_person(place, eyes.pictures));
    }
  }
  return unreadable;
}

}  // namespace loadlight::app
