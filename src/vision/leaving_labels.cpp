#include "vision/leaving_labels.h"

#include <exception>
#include <utility>

#include "vision/place_texture.h"
#include "vision/sweep_places.h"
#include "vision/track_grid.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostWaiting = 40;
constexpr GridBudget kGrid{2, 8};
constexpr int kMostGrids = 2;  // with those while it was in view
// When no frame waits.
constexpr GridBudget kLastGrid{6, 24};
constexpr int kMostLastGrids = 4;

// Whether anything costly, or anybody's look, is worth it; what cannot be told is.
bool seems_symbol(const LabelTrack& track) {
  const Shot& best = track.shots().front();
  try {
    return changes_when_sharpened(best.picture.view(), best.in_picture) >= kLeastChanges;
  } catch (const std::exception&) {
    return true;
  }
}

}  // namespace

void LeavingLabels::lose(const LabelTrack& track) {
  const Shot& best = track.shots().front();
  lost_.push_back({track.number(), best.frame, best.file, best.in_frame, best.picture, best.in_picture});
}

void LeavingLabels::add(LabelTrack track) {
  if (track.shots().empty() || !seems_symbol(track)) return;
  waiting_.push_back(std::move(track));
  while (waiting_.size() > kMostWaiting) {
    lose(waiting_.front());
    waiting_.pop_front();
  }
}

void LeavingLabels::move(cv::Point2d shift) {
  for (auto& track : waiting_) track.move(shift);
}

void LeavingLabels::spend_a_try() {
  spend_a_try(kGrid, kMostGrids);
}

void LeavingLabels::spend_all() {
  while (!waiting_.empty()) spend_a_try(kLastGrid, kMostLastGrids);
}

void LeavingLabels::spend_a_try(const GridBudget& budget, int most) {
  if (waiting_.empty()) return;
  LabelTrack& track = waiting_.front();
  bool may_go_on = false;
  try {
    may_go_on = try_next(track, budget, most);
  } catch (const std::exception&) {
    // Out of memory, say.
  }
  if (may_go_on) return;
  if (track.is_read()) {
    read_.push_back(std::move(track));
  } else if (track.has_persisted()) {
    lose(track);
  }
  waiting_.pop_front();
}

// Whether it is still not read and there is more to try.
bool LeavingLabels::try_next(LabelTrack& track, const GridBudget& budget, int most) {
  if (track.sharpest_untried() == nullptr || track.grids >= most) return false;
  ++track.grids;
  if (const auto found = read_grid_of(track, budget)) track.read_as(found->text, found->corners, {});
  return !track.is_read();
}

std::vector<LabelTrack> LeavingLabels::take_read() {
  return std::exchange(read_, {});
}

std::vector<port::LostPlace> LeavingLabels::take_lost() {
  return std::exchange(lost_, {});
}

}  // namespace loadlight::vision
