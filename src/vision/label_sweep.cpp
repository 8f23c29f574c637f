#include "vision/label_sweep.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <exception>
#include <functional>
#include <utility>

#include "vision/finder_spots.h"
#include "vision/frame_motion.h"
#include "vision/frame_parts.h"
#include "vision/gray_mat.h"
#include "vision/label_track.h"
#include "vision/leaving_labels.h"
#include "vision/parallel.h"
#include "vision/sightings.h"
#include "vision/smear.h"
#include "vision/sweep_pace.h"
#include "vision/sweep_places.h"
#include "vision/track_grid.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostTracks = 400;
// Of one search: tries at places, each without what was read before it.
constexpr std::size_t kMostFailures = 12;
// Tries at labels that are not read: at most so many a frame, in pictures nearly as sharp as their best.
constexpr std::size_t kTriesAFrame = 4;
constexpr std::size_t kTriesWhenStill = 16;
constexpr double kNearlyAsSharp = 0.85;
// What smears more is not tried as it is: of labels that smear over two modules, nothing is read so.
constexpr double kLeastEvenness = 0.5;
constexpr double kMostSmear = 1.75;  // modules
constexpr int kLookedForEvery = 3;   // frames; between them the motion alone carries a label
constexpr int kLongestPause = 12;    // frames
constexpr double kLastFrames = 2.5;  // a label that leaves within so many is tried however it looks
// Grids of our own: one a frame, laid over a label's sharpest picture once sharper ones are past.
constexpr GridBudget kGrid{2, 8};
constexpr GridBudget kSlowGrid{6, 24};
constexpr int kMostGrids = 2;  // of a label while it is in view
constexpr int kMostSlowGrids = 6;
constexpr int kBetweenGrids = 12;  // frames

using SteadyClock = std::chrono::steady_clock;

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

class LabelSweep final : public port::Sweep {
 public:
  LabelSweep(const port::SymbolReader& reader, const port::SweepOptions& options)
      : reader_(reader), options_(options) {}

  port::SweepView see(const port::Frame& frame) override;
  port::SweepView end() override;

 private:
  void follow(const port::Frame& frame);
  void see_apart(const port::Frame& frame);
  void search();
  void search_leaving();
  void read_places(const SweepPlaces& search, double smear);
  void track_places(const SweepPlaces& search);
  bool is_open(port::PixelPoint spot) const;
  bool is_waiting(const Quadrilateral& place);
  std::vector<Quadrilateral> open_places(const SweepPlaces& search) const;
  void retry();
  bool is_worth_a_try(const LabelTrack& track) const;
  std::vector<Found> read_all(std::size_t count, const std::function<Found(std::size_t)>& read) const;
  std::size_t note(const Found& found);
  bool note(const std::string& text, const Quadrilateral& corners);
  LabelTrack* track_at(const Quadrilateral& corners);
  bool is_read_at(const Quadrilateral& place) const;
  void track_pairs(const SweepPlaces& search);
  void lay_grid();
  void retire();
  void lose_all();
  void describe(port::SweepView& view);
  bool has_time() const { return SteadyClock::now() < deadline_; }
  cv::Size size() const { return {picture_.width, picture_.height}; }

  const port::SymbolReader& reader_;
  port::SweepOptions options_;
  FrameMotion motion_;
  SweepPace pace_;
  std::vector<LabelTrack> tracks_;
  LeavingLabels leaving_;
  int last_number_ = 0;     // of a track
  port::GrayView picture_;  // of the frame being seen, as all below
  cv::Mat reduced_;
  SteadyClock::time_point deadline_;
};

port::SweepView LabelSweep::see(const port::Frame& frame) {
  port::SweepView view;
  picture_ = frame.picture.view();
  if (picture_.pixels == nullptr || picture_.width < 1 || picture_.height < 1) return view;
  deadline_ = SteadyClock::now() + options_.frame.time;
  for (auto& track : tracks_) track.begin_frame();
  try {
    view.brightness = cv::mean(mat_over(picture_))[0];
    frame.apart ? see_apart(frame) : follow(frame);
  } catch (const std::exception&) {
    // Out of memory, say: what is known of the frame still stands.
  }
  describe(view);
  return view;
}

port::SweepView LabelSweep::end() {
  lose_all();
  port::SweepView view;
  describe(view);
  return view;
}

// A photograph of its own: read whole, and what is not read in it will not be seen again.
void LabelSweep::see_apart(const port::Frame& frame) {
  lose_all();
  motion_.forget();
  pace_.begin_anew();
  reduced_.release();
  const auto look = reader_.look(picture_, {});
  for (const auto& sighting : look.read) {
    tracks_.emplace_back(++last_number_, sighting.corners, usual_module(sighting.corners));
    tracks_.back().read_as(sighting.text, sighting.corners, reduced_);
  }
  for (const auto& place : look.unread) {
    LabelTrack track(++last_number_, place, 0);
    track.keep_shot(frame);
    leaving_.lose(track);
  }
}

void LabelSweep::follow(const port::Frame& frame) {
  reduced_ = halved(halved(mat_over(picture_)));
  static_assert(LabelTrack::kReduction == 4 && FrameMotion::kReduction == 8);
  const auto shift = motion_.follow(halved(reduced_));
  if (shift) {
    pace_.moved(*shift, std::max(picture_.width, picture_.height));
    for (auto& track : tracks_) {
      track.move(*shift);
      if (track.number() % kLookedForEvery == pace_.frame() % kLookedForEvery) track.find_again(reduced_);
    }
    leaving_.move(*shift);
    retire();
  } else {
    lose_all();
    pace_.begin_anew();
  }
  if (pace_.is_search_due()) {
    search();
  } else if (shift && pace_.is_last_search_due()) {
    search_leaving();
  }
  for (auto& track : tracks_) {
    if (!track.is_read()) track.keep_shot(frame);
  }
  retry();
  if (has_time()) leaving_.is_empty() ? lay_grid() : leaving_.spend_a_try();
}

// Where three finders stand that no label read so far accounts for.
void LabelSweep::search() {
  const SweepPlaces search(picture_);
  const double smear = smear_of(middle_of(mat_over(picture_))).length;
  read_places(search, smear);
  track_places(search);
  pace_.searched(smear == 0);
}

// Where no frame so far was clear: the strip that is about to leave, without its smear.
void LabelSweep::search_leaving() {
  const Tile strip = leaving_strip(size(), pace_.shift());
  const Smear smear = smear_of(mat_over(cut(picture_, strip)));
  if (smear.length > 0) track_places(SweepPlaces(picture_, strip, smear));
  pace_.searched_last();
}

// The likeliest first, none of them on another; those of neighbours' finders, wrongly joined, fall away with
// what is read, or else let the next likeliest have its turn.
void LabelSweep::read_places(const SweepPlaces& search, double smear) {
  std::vector<Quadrilateral> tried;
  std::size_t failures = 0;
  while (has_time() && failures < kMostFailures) {
    auto places = open_places(search);
    std::erase_if(places, [&](const auto& place) {
      return smear > kMostSmear * search.module_of(place) || is_waiting(place) || is_among(tried, place);
    });
    places = apart_from_each_other(places);
    if (places.empty()) return;
    const auto found =
        read_all(places.size(), [&](std::size_t i) { return read_either(picture_, places[i]); });
    for (const auto& one : found) failures += note(one) == 0;
    tried.insert(tried.end(), places.begin(), places.end());
  }
}

// A place that was tried and has its next turn later.
bool LabelSweep::is_waiting(const Quadrilateral& place) {
  const LabelTrack* known = track_at(place);
  return known != nullptr && known->next_try > pace_.frame();
}

std::vector<Quadrilateral> LabelSweep::open_places(const SweepPlaces& search) const {
  auto places = search.places([&](port::PixelPoint spot) { return is_open(spot); });
  std::erase_if(places, [&](const Quadrilateral& place) { return is_read_at(place); });
  return places;
}

bool LabelSweep::is_open(port::PixelPoint spot) const {
  return std::none_of(tracks_.begin(), tracks_.end(), [&](const LabelTrack& track) {
    return track.is_read() && contains(track.corners(), spot);
  });
}

// What still is not read becomes a track, or is found again on its own.
void LabelSweep::track_places(const SweepPlaces& search) {
  for (const auto& place : apart_from_each_other(open_places(search))) {
    LabelTrack* known = track_at(place);
    if (known != nullptr && known->is_read()) continue;
    if (known == nullptr) {
      if (tracks_.size() >= kMostTracks) return;
      known = &tracks_.emplace_back(++last_number_, place, 0);
      known->next_try = pace_.frame() + 1;
    }
    known->place_at(place, search.module_of(place), reduced_);
  }
  track_pairs(search);
  for (auto& track : tracks_) {
    if (track.is_read() && track.module() == 0) track.measure(search.module_of(track.corners()));
  }
}

// Two finders that nothing else accounts for.
void LabelSweep::track_pairs(const SweepPlaces& search) {
  for (const auto& place : search.pairs([&](port::PixelPoint spot) { return is_open(spot); })) {
    const auto touches = [&](const LabelTrack& track) { return overlap(track.corners(), place); };
    LabelTrack* known = track_at(place);
    if (known != nullptr && !known->is_read() && is_among({place}, known->corners())) {
      known->place_at(place, search.module_of(place), reduced_);
    } else if (tracks_.size() < kMostTracks && std::none_of(tracks_.begin(), tracks_.end(), touches)) {
      tracks_.emplace_back(++last_number_, place, 0).place_at(place, search.module_of(place), reduced_);
    }
  }
}

bool LabelSweep::is_worth_a_try(const LabelTrack& track) const {
  if (track.is_read() || track.next_try > pace_.frame() || track.shots().empty()) return false;
  if (track.evenness_now() < kLeastEvenness) return false;
  const bool leaves = track.frames_left(size(), pace_.shift()) < kLastFrames;
  return leaves || track.sharpness_now() >= kNearlyAsSharp * track.shots().front().sharpness;
}

// The labels that leave first are tried first.
void LabelSweep::retry() {
  if (!has_time()) return;
  std::vector<LabelTrack*> waiting;
  for (auto& track : tracks_) {
    if (is_worth_a_try(track)) waiting.push_back(&track);
  }
  std::stable_sort(waiting.begin(), waiting.end(), [&](const LabelTrack* one, const LabelTrack* other) {
    return one->frames_left(size(), pace_.shift()) < other->frames_left(size(), pace_.shift());
  });
  waiting.resize(std::min(waiting.size(), pace_.is_nearly_still() ? kTriesWhenStill : kTriesAFrame));
  const auto found = read_all(waiting.size(), [&](std::size_t i) {
    return waiting[i]->tries % 2 == 0 ? read_sharpened(picture_, waiting[i]->corners())
                                      : read_plainly(picture_, waiting[i]->corners());
  });
  for (LabelTrack* track : waiting)
    track->next_try = pace_.frame() + std::min(kLongestPause, 1 + ++track->tries);
  for (const auto& one : found) note(one);
}

std::vector<Found> LabelSweep::read_all(std::size_t count,
                                        const std::function<Found(std::size_t)>& read) const {
  std::vector<Found> found(count);
  in_parallel(count, options_.frame.threads, [&](std::size_t i) {
    if (has_time()) found[i] = read(i);
  });
  return found;
}

std::size_t LabelSweep::note(const Found& found) {
  std::size_t added = 0;
  for (const auto& sighting : found) added += note(sighting.text, sighting.corners);
  return added;
}

// True for a label that was not read before. Another text at a label's place says that the motion was
// misjudged: the label that was there has gone.
bool LabelSweep::note(const std::string& text, const Quadrilateral& corners) {
  std::erase_if(tracks_, [&](const LabelTrack& track) {
    return track.is_read() && track.text() != text && same_place(track.corners(), corners);
  });
  LabelTrack* track = track_at(corners);
  const bool is_new = track == nullptr || !track->is_read();
  if (track == nullptr) {
    if (tracks_.size() >= kMostTracks) return false;
    track = &tracks_.emplace_back(++last_number_, corners, 0);
  }
  track->read_as(text, corners, reduced_);
  const int number = track->number();
  // Finders of neighbours can pass for a place of their own, until one of them is read.
  std::erase_if(tracks_, [&](const LabelTrack& other) {
    return !other.is_read() && other.number() != number && overlap(other.corners(), corners);
  });
  return is_new;
}

LabelTrack* LabelSweep::track_at(const Quadrilateral& corners) {
  const auto found = std::find_if(tracks_.begin(), tracks_.end(), [&](const LabelTrack& track) {
    return same_place(track.corners(), corners);
  });
  return found == tracks_.end() ? nullptr : &*found;
}

bool LabelSweep::is_read_at(const Quadrilateral& place) const {
  return std::any_of(tracks_.begin(), tracks_.end(), [&](const LabelTrack& track) {
    return track.is_read() && overlap(track.corners(), place);
  });
}

// The label that leaves first, of those that are due.
void LabelSweep::lay_grid() {
  const int most = pace_.is_slow() ? kMostSlowGrids : kMostGrids;
  LabelTrack* next = nullptr;
  const auto left = [&](const LabelTrack& track) { return track.frames_left(size(), pace_.shift()); };
  for (auto& track : tracks_) {
    if (!track.is_grid_due(pace_.frame(), most)) continue;
    if (next == nullptr || left(track) < left(*next)) next = &track;
  }
  if (next == nullptr) return;
  ++next->grids;
  next->next_grid = pace_.frame() + kBetweenGrids;
  const auto found = read_grid_of(*next, pace_.is_slow() ? kSlowGrid : kGrid);
  if (found && !is_read_at(found->corners)) note(found->text, found->corners);
}

// Labels that left the view, or are not where they were thought to be.
void LabelSweep::retire() {
  const auto is_gone = [&](const LabelTrack& track) { return !track.is_within(size()) || track.is_lost(); };
  for (auto& track : tracks_) {
    if (is_gone(track) && !track.is_read()) leaving_.add(std::move(track));
  }
  std::erase_if(tracks_, is_gone);
}

// What follows continues nothing.
void LabelSweep::lose_all() {
  for (auto& track : tracks_) {
    if (!track.is_read()) leaving_.add(std::move(track));
  }
  tracks_.clear();
  leaving_.spend_all();
}

void LabelSweep::describe(port::SweepView& view) {
  const auto read_late = leaving_.take_read();
  view.lost = leaving_.take_lost();
  std::vector<const LabelTrack*> seen;
  std::vector<double> modules;
  for (const auto* tracks : {&std::as_const(tracks_), &read_late}) {
    for (const auto& track : *tracks) {
      if (track.module() > 0) modules.push_back(track.module());
      if (track.is_read()) seen.push_back(&track);
    }
  }
  Sightings ordered;  // by index, since two labels may say the same
  for (std::size_t i = 0; i < seen.size(); ++i) ordered.add({{std::to_string(i), seen[i]->corners()}}, {});
  for (const auto& sighting : ordered.in_reading_order()) {
    const LabelTrack& track = *seen[std::stoul(sighting.text)];
    view.symbols.push_back({track.number(), track.text(), track.corners(), track.is_fresh()});
  }
  view.shift_x = pace_.shift().x;
  view.shift_y = pace_.shift().y;
  view.module = median(std::move(modules));
  view.unread = static_cast<int>(std::count_if(tracks_.begin(), tracks_.end(),
                                               [](const LabelTrack& track) { return !track.is_read(); }));
}

}  // namespace

std::unique_ptr<port::Sweep> make_label_sweep(const port::SymbolReader& reader,
                                              const port::SweepOptions& options) {
  return std::make_unique<LabelSweep>(reader, options);
}

}  // namespace loadlight::vision
