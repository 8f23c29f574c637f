#include "web/held_papers.h"

#include "web/secrets.h"

namespace loadlight::web {

std::string HeldPapers::keep(HeldPaper paper) {
  const std::lock_guard lock{mutex_};
  bytes_ += paper.pdf.size();
  places_.push_back({random_name(), std::move(paper)});
  while (places_.size() > kMost || (bytes_ > kMostBytes && places_.size() > 1)) {
    bytes_ -= places_.front().paper.pdf.size();
    places_.pop_front();
  }
  return places_.back().key;
}

std::optional<HeldPaper> HeldPapers::find(std::string_view key) {
  const std::lock_guard lock{mutex_};
  for (const Place& place : places_) {
    if (place.key == key) return place.paper;
  }
  return std::nullopt;
}

}  // namespace loadlight::web
