#include "app/shelf_sweep.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <map>
#include <memory>
#include <utility>

#include "app/old_labels.h"
#include "app/printed_module.h"

namespace loadlight::app {
namespace {

constexpr port::ReadBudget kPhotographBudget{};
constexpr std::size_t kMostOthers = 10'000;

label::Quad quad_of(const port::Corners& corners) {
  label::Quad quad;
  for (std::size_t i = 0; i < corners.size(); ++i) quad[i] = {corners[i].x, corners[i].y};
  return quad;
}

// A template is read once, however many labels were printed by it.
std::function<core::Result<label::LabelTemplate>(std::string_view)> read_once(
    std::function<core::Result<label::LabelTemplate>(std::string_view)> find) {
  if (!find) return find;
  using Known = std::map<std::string, core::Result<label::LabelTemplate>, std::less<>>;
  return [find = std::move(find), known = std::make_shared<Known>()](std::string_view name) {
    const auto found = known->find(name);
    return found != known->end() ? found->second
                                 : known->emplace(std::string{name}, find(name)).first->second;
  };
}

}  // namespace

ShelfSweep::ShelfSweep(const Ports& ports, const AuditEyes& eyes, const AuditRequest& request,
                       AuditLedger& ledger)
    : ports_(ports),
      eyes_(eyes),
      request_(request),
      ledger_(ledger),
      pictures_(eyes.pictures),
      places_(ledger.places().begin(), ledger.places().end()),
      place_(ledger.last_place()),
      begun_at_(ports.clock.now()),
      first_frame_(ledger.last_frame()),
      last_frame_(ledger.last_frame()) {
  templates_.find_template = read_once(request.find_template);
  for (const SeenLabel& earlier : ledger.earlier()) {
    if (earlier.how() == core::SeenHow::Matched) continue;  // counted at the end, unless it is read by then
    SeenLabel& label = seen_.of_text(earlier.item.text);
    const auto id = label.id;
    label = earlier;
    label.id = id;
  }
}

// What was seen before the audit was cut off, by the record as it stands now.
void ShelfSweep::judge_earlier() {
  if (seen_.all().empty()) return;
  const auto unit = ports_.store.begin(port::Access::Read);
  for (SeenLabel& label : seen_.all()) {
    if (unit) judge_label(ports_, **unit, label);
    if (!unit) judge_label_without(unit.failure(), label);
  }
}

ShelfSweep::End ShelfSweep::run(port::FrameSource& frames) {
  judge_earlier();
  if (first_frame_ > 0) {
    if (const auto skipped = frames.skip_to(first_frame_); !skipped) {
      trouble_ = skipped.failure();
      return End::Failed;
    }
  }
  port::Frame last;
  const End end = look_at_all(frames, last);
  if (sweep_) take_rest(last);
  return end;
}

ShelfSweep::End ShelfSweep::look_at_all(port::FrameSource& frames, port::Frame& last) {
  for (;;) {
    auto frame = frames.next();
    if (!frame) trouble_ = frame.failure();
    if (!frame || !*frame) return frame ? End::Finished : End::Failed;
    last = std::move(**frame);
    const FrameSight sight = look(last);
    take(last, sight);
    const AuditStep step = tell(last, sight, frames.outlook().frames);
    if (step != AuditStep::GoOn) return step == AuditStep::Finish ? End::Finished : End::Interrupted;
  }
}

// What the sweep reads, or gives up, only now that no frame comes after the last.
void ShelfSweep::take_rest(const port::Frame& last) {
  const FrameSight sight = sight_of(sweep_->end(), last);
  if (!sight.symbols.empty()) take(last, sight);
}

FrameSight ShelfSweep::look(const port::Frame& frame) {
  if (frame.apart) return look_apart(frame);
  if (!sweep_) sweep_ = eyes_.reader.begin_sweep({});
  return sight_of(sweep_->see(frame), frame);
}

FrameSight ShelfSweep::sight_of(port::SweepView view, const port::Frame& frame) {
  FrameSight sight;
  for (port::SweepSymbol& symbol : view.symbols) {
    sight.symbols.push_back({std::move(symbol.text), symbol.corners});
  }
  for (port::LostPlace& place : view.lost) lost_.add(std::move(place), place_);
  sight.shift_x = view.shift_x;
  sight.shift_y = view.shift_y;
  sight.measures = {std::hypot(view.shift_x, view.shift_y), view.module, view.brightness,
                    frame.picture.width};
  return sight;
}

FrameSight ShelfSweep::look_apart(const port::Frame& frame) {
  port::Look look = eyes_.reader.look(frame.picture.view(), kPhotographBudget);
  lost_.add(frame, look.unread, place_);
  FrameSight sight;
  sight.symbols = std::move(look.read);
  // Neither too fast nor too dark: what a photograph shows is all that it will show.
  sight.measures = {0, 0, 255, frame.picture.width};
  return sight;
}

void ShelfSweep::take(const port::Frame& frame, const FrameSight& sight) {
  last_frame_ = frame.number;
  seconds_ = frame.seconds;
  std::vector<SeenLabel*> labels, news;
  std::vector<CheckItem> items;
  std::vector<SweepPictures::InView> marks;
  std::set<std::string> texts;
  bool doubt = false;
  outlined_.clear();
  for (const port::SymbolSighting& symbol : sight.symbols) {
    SeenLabel* label = place_symbol(frame, symbol);
    if (!label) continue;
    labels.push_back(label);
    outlined_.emplace_back(label, symbol.corners);
    items.push_back({CheckItem::How::Symbol, symbol.text, quad_of(symbol.corners)});
    marks.push_back({symbol.corners, seen_.index_of(*label)});
    if (texts.insert(symbol.text).second && label->sightings == 1) news.push_back(label);
    doubt = doubt || !label->in_doubt_beside.empty();
  }
  // Only when a label comes into view can it be the first time that one lies on another.
  const bool entered = !std::includes(in_view_.begin(), in_view_.end(), texts.begin(), texts.end());
  if (entered || doubt || frame.apart) judge(labels, items, news);
  if (std::exchange(place_is_new_, false) && news.empty()) {
    (void)ledger_.write_progress(frame.number, place_).ok();
  }
  in_view_ = std::move(texts);
  pictures_.see(frame, sight.shift_x, sight.shift_y, marks);
  if (!request_.saw) return;
  for (const SeenLabel* label : news) request_.saw(label->audited());
}

// Null for a symbol that is no label of a package.
SeenLabel* ShelfSweep::place_symbol(const port::Frame& frame, const port::SymbolSighting& symbol) {
  const core::PayloadText text = core::parse_payload(symbol.text);
  const auto* tag = std::get_if<core::ShelfTagText>(&text);
  if (tag && pass_tag(*tag)) return nullptr;
  if (tag || std::holds_alternative<core::NotOursText>(text) ||
      std::holds_alternative<core::BadgeText>(text)) {
    if (others_.size() < kMostOthers) others_.insert(std::hash<std::string>{}(symbol.text));
    return nullptr;
  }
  SeenLabel& label = seen_.of_text(symbol.text);
  if (std::exchange(label.last_frame, frame.number) == frame.number && label.sightings > 0) return &label;
  if (++label.sightings > 1) return &label;
  label.first_frame = frame.number;
  label.first_file = frame.file;
  label.corners = symbol.corners;
  label.seen_at = place_;
  return &label;
}

// Only a tag of this office, for a location that it has, says where the camera is.
bool ShelfSweep::pass_tag(const core::ShelfTagText& tag) {
  if (!ports_.keyring.verifies(tag.signed_part, tag.authenticator)) return false;
  if (places_.count(tag.location) == 0) {
    const auto unit = ports_.store.begin(port::Access::Read);
    if (!unit) return false;
    const auto location = (*unit)->locations().find(tag.location);
    if (!location || !*location) return false;
    places_.insert(tag.location);
    place_is_new_ = true;
  }
  place_ = tag.location;
  return true;
}

void ShelfSweep::judge(const std::vector<SeenLabel*>& labels, const std::vector<CheckItem>& items,
                       const std::vector<SeenLabel*>& news) {
  std::vector<std::optional<bool>> old_labels(labels.size());
  {
    const auto unit = ports_.store.begin(port::Access::Read);
    for (SeenLabel* label : news) {
      if (unit) judge_label(ports_, **unit, *label);
      if (!unit) judge_label_without(unit.failure(), *label);
    }
    CheckRequest request = templates_;
    request.items = items;
    if (unit) old_labels = find_old_labels(**unit, request);
  }
  for (std::size_t i = 0; i < labels.size(); ++i) note_old_label(labels, i, old_labels[i]);
  (void)ledger_.write(labels, last_frame_, place_).ok();  // what was not written holds, and is tried again
}

// Seen once, an old label on a package speaks against it to the end of the audit. So does the doubt about
// one, until a frame that shows both labels settles it.
void ShelfSweep::note_old_label(const std::vector<SeenLabel*>& in_view, std::size_t which,
                                std::optional<bool> found) {
  SeenLabel& label = *in_view[which];
  label.old_label = label.old_label || found == true;
  for (const SeenLabel* other : in_view) {
    if (other == &label) continue;
    const std::size_t index = seen_.index_of(*other);
    if (found) label.in_doubt_beside.erase(index);
    if (!found) label.in_doubt_beside.insert(index);
  }
}

AuditStep ShelfSweep::tell(const port::Frame& frame, const FrameSight& sight, int frames) {
  if (!request_.tell) return AuditStep::GoOn;
  AuditProgress progress;
  progress.frame = frame.number;
  progress.frames = frames;
  progress.packages = static_cast<int>(seen_.all().size());
  progress.location = place_;
  for (const auto& [label, corners] : outlined_) {
    progress.in_view.push_back({corners, label->verdict().outcome(), core::status_of(label->expected_at, label->seen_at)});
  }
  progress.hints = frame.apart ? std::vector<core::SweepHint>{} : core::hints_for(sight.measures);
  const int done = frame.number - first_frame_;
  const std::chrono::duration<double> spent = ports_.clock.now() - begun_at_;
  if (frames > frame.number && done > 0) {
    progress.seconds_left = std::max(0.0, spent.count()) / done * (frames - frame.number);
  }
  const bool far = std::count(progress.hints.begin(), progress.hints.end(), core::SweepHint::TooFar) > 0;
  if (far) progress.usable_width = usable_width(frame.picture.width);
  return request_.tell(progress);
}

// By the newest label that the record knows the print of.
std::optional<double> ShelfSweep::usable_width(int frame_width) {
  const bool can_tell = !module_ && !seen_.all().empty() && seen_.all().back().id;
  if (can_tell) {
    const auto unit = ports_.store.begin(port::Access::Read);
    if (unit) module_ = printed_module(**unit, templates_, *seen_.all().back().id);
  }
  return module_ ? core::largest_usable_width(frame_width, *module_) : std::nullopt;
}

}  // namespace loadlight::app
