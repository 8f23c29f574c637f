#include "vision/label_sweep.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <exception>
#include <functional>
#include <opencv2/imgproc.hpp>

#include "vision/finder_spots.h"
#include "vision/frame_motion.h"
#include "vision/gray_mat.h"
#include "vision/label_track.h"
#include "vision/parallel.h"
#include "vision/place_texture.h"
#include "vision/sightings.h"
#include "vision/sweep_pace.h"
#include "vision/sweep_places.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostTracks = 400;
// Of one search: tries at places, each without what was read before it.
constexpr std::size_t kMostFailures = 12;
// Tries at labels that are not read: at most so many a frame, in pictures nearly as sharp as their best.
constexpr std::size_t kTriesAFrame = 4;
constexpr std::size_t kTriesWhenStill = 16;
constexpr double kNearlyAsSharp = 0.85;
constexpr int kLookedForEvery = 3;  // frames; between them the motion alone carries a label
constexpr int kLongestPause = 12;   // frames
// The reader's full effort goes to a label that is about to leave, or was tried so often.
constexpr double kLastFrames = 2.5;
constexpr int kManyTries = 6;

using SteadyClock = std::chrono::steady_clock;

port::LostPlace lost_place(const LabelTrack& track) {
  const Shot& best = track.shots().front();
  return {track.number(), best.frame, best.file, best.in_frame, best.picture, best.in_picture};
}

// A last odd row or column is left out: each pixel is the mean of four.
cv::Mat halved(const cv::Mat& gray) {
  const cv::Size half(std::max(1, gray.cols / 2), std::max(1, gray.rows / 2));
  const cv::Rect even(0, 0, std::min(gray.cols, 2 * half.width), std::min(gray.rows, 2 * half.height));
  cv::Mat result;
  cv::resize(gray(even), result, half, 0, 0, cv::INTER_AREA);
  return result;
}

// Whether anything costly, or anybody's look, is worth it.
bool seems_symbol(const LabelTrack& track) {
  const Shot& best = track.shots().front();
  return changes_when_sharpened(best.picture.view(), best.in_picture) >= kLeastChanges;
}

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
  void read_places(const SweepPlaces& search);
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
  void spend_last_efforts();
  void spend_effort(LabelTrack& track);
  void retire();
  void lose(LabelTrack& track);
  void lose_all();
  void describe(port::SweepView& view) const;
  bool has_time() const { return SteadyClock::now() < deadline_; }
  cv::Size size() const { return {picture_.width, picture_.height}; }

  const port::SymbolReader& reader_;
  port::SweepOptions options_;
  FrameMotion motion_;
  SweepPace pace_;
  std::vector<LabelTrack> tracks_;
  std::vector<LabelTrack> read_late_;  // from their shots, when they were gone already
  std::vector<port::LostPlace> lost_;  // since the last view was given
  int last_number_ = 0;                // of a track
  port::GrayView picture_;             // of the frame being seen, as all below
  cv::Mat reduced_;
  SteadyClock::time_point deadline_;
};

port::SweepView LabelSweep::see(const port::Frame& frame) {
  port::SweepView view;
  picture_ = frame.picture.view();
  if (picture_.pixels == nullptr || picture_.width < 1 || picture_.height < 1) return view;
  deadline_ = SteadyClock::now() + options_.frame.time;
  read_late_.clear();
  for (auto& track : tracks_) track.begin_frame();
  try {
    view.brightness = cv::mean(mat_over(picture_))[0];
    frame.apart ? see_apart(frame) : follow(frame);
  } catch (const std::exception&) {
    // Out of memory, say: what is known of the frame still stands.
  }
  describe(view);
  view.lost = std::move(lost_);
  lost_.clear();
  return view;
}

port::SweepView LabelSweep::end() {
  read_late_.clear();
  lose_all();
  port::SweepView view;
  describe(view);
  view.lost = std::exchange(lost_, {});
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
    lost_.push_back(lost_place(track));
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
    retire();
  } else {
    lose_all();
    pace_.begin_anew();
  }
  if (pace_.is_search_due()) search();
  for (auto& track : tracks_) {
    if (!track.is_read()) track.keep_shot(frame);
  }
  retry();
  spend_last_efforts();
}

// Where three finders stand that no label read so far accounts for.
void LabelSweep::search() {
  const SweepPlaces search(picture_);
  read_places(search);
  track_places(search);
  pace_.searched();
}

// The likeliest first, none of them on another; those of neighbours' finders, wrongly joined, fall away with
// what is read, or else let the next likeliest have its turn.
void LabelSweep::read_places(const SweepPlaces& search) {
  std::vector<Quadrilateral> tried;
  std::size_t failures = 0;
  while (has_time() && failures < kMostFailures) {
    auto places = open_places(search);
    std::erase_if(places, [&](const auto& place) { return is_waiting(place) || is_among(tried, place); });
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
  for (auto& track : tracks_) {
    if (track.is_read() && track.module() == 0) track.measure(search.module_of(track.corners()));
  }
}

bool LabelSweep::is_worth_a_try(const LabelTrack& track) const {
  if (track.is_read() || track.next_try > pace_.frame() || track.shots().empty()) return false;
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

void LabelSweep::spend_last_efforts() {
  for (auto& track : tracks_) {
    if (!has_time()) return;
    const bool leaves = track.frames_left(size(), pace_.shift()) < kLastFrames;
    if (!track.is_read() && track.has_persisted() && (leaves || track.tries >= kManyTries))
      spend_effort(track);
  }
}

// Its sharpest shots together, once: the reader's whole effort.
void LabelSweep::spend_effort(LabelTrack& track) {
  if (track.is_spent || track.shots().empty()) return;
  track.is_spent = true;
  if (!seems_symbol(track)) return;
  std::vector<port::GrayView> shots;
  for (const auto& shot : track.shots()) shots.push_back(shot.picture.view());
  const auto look = reader_.look(shots, {options_.frame.time, port::Effort::Full, options_.frame.threads});
  for (const auto& sighting : look.read) {
    if (!same_place(sighting.corners, track.shots().front().in_picture)) continue;
    track.read_as(sighting.text, track.corners(), reduced_);
    return;
  }
}

// Labels that left the view, or are not where they were thought to be.
void LabelSweep::retire() {
  for (auto& track : tracks_) {
    if (!track.is_within(size()) || track.is_lost()) lose(track);
  }
  std::erase_if(tracks_,
                [&](const LabelTrack& track) { return !track.is_within(size()) || track.is_lost(); });
}

void LabelSweep::lose(LabelTrack& track) {
  if (track.is_read() || !track.has_persisted() || track.shots().empty() || !seems_symbol(track)) return;
  try {
    spend_effort(track);
  } catch (const std::exception&) {
    // Then a person must look.
  }
  track.is_read() ? read_late_.push_back(track) : lost_.push_back(lost_place(track));
}

void LabelSweep::lose_all() {
  for (auto& track : tracks_) lose(track);
  tracks_.clear();
}

void LabelSweep::describe(port::SweepView& view) const {
  std::vector<const LabelTrack*> seen;
  std::vector<double> modules;
  for (const auto* tracks : {&tracks_, &read_late_}) {
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
