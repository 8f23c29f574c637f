#include "app/audit_ledger.h"

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstdlib>

#include "app/page_text.h"
#include "loadlight/app/again.h"
#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::Details;
using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

std::string detail_of(const port::PastEvent& event, std::string_view name) {
  for (const auto& [key, value] : event.details) {
    if (key == name) return value;
  }
  return "";
}

int number_in(const std::string& text) {
  int number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

std::string corners_text(const port::Corners& corners) {
  std::string text;
  for (const port::PixelPoint& corner : corners) {
    char point[64];
    std::snprintf(point, sizeof point, "%s%.1f,%.1f", text.empty() ? "" : " ", corner.x, corner.y);
    text += point;
  }
  return text;
}

port::Corners corners_in(const std::string& text) {
  port::Corners corners{};
  const char* rest = text.c_str();
  for (port::PixelPoint& corner : corners) {
    char* end = nullptr;
    corner.x = std::strtod(rest, &end);
    rest = *end == ',' ? end + 1 : end;
    corner.y = std::strtod(rest, &end);
    rest = end;
  }
  return corners;
}

std::string reasons_text(const core::Verdict& verdict) {
  std::string list;
  for (const core::Reason reason : verdict.reasons()) {
    list += (list.empty() ? "" : " ") + std::string{core::to_text(reason)};
  }
  return list;
}

// What a text that is no package's label may leave in the ledger: "LLC1.".
std::string kept_text(const SeenLabel& label) {
  return label.id ? label.item.text : label.item.text.substr(0, label.item.text.find('.') + 1);
}

// As the ledger has it once written: a verdict that stays the same is not written twice.
std::string fingerprint(const core::Verdict& verdict) {
  return std::string{core::to_text(verdict.outcome())} + ":" + reasons_text(verdict);
}

core::Verdict verdict_to_write(const SeenLabel& label) {
  SeenLabel written = label;
  written.unwritten_for.reset();  // once it is written, that speaks against it no more
  return written.verdict();
}

Details details_of(const SeenLabel& label, int frame) {
  const core::Verdict verdict = verdict_to_write(label);
  const bool read = label.how() == core::SeenHow::Read;
  return {{"frame", std::to_string(frame)},
          {"location", label.seen_at},
          {"how", std::string{core::to_text(label.how())}},
          {read ? "label" : "package", read ? kept_text(label) : label.item.text},
          {"outcome", std::string{core::to_text(verdict.outcome())}},
          {"reasons", reasons_text(verdict)},
          {"first_frame", std::to_string(label.first_frame)},
          {"file", legible(label.first_file)},
          {"sightings", std::to_string(label.sightings)},
          {"corners", corners_text(label.corners)}};
}

Result<void> must_be_current(const port::Unit& unit, const std::string& location) {
  const auto found = unit.locations().find(location);
  if (!found) return found.failure();
  const Details named{{"table", "location"}, {"code", location}};
  if (!*found) return Failure{FailureCode::CodeUnknown, named, {}};
  if ((**found).retired_on) return Failure{FailureCode::CodeRetired, named, {}};
  return {};
}

// True iff `reasons` lists this one.
bool lists(const std::string& reasons, core::Reason reason) {
  return (" " + reasons + " ").find(" " + std::string{core::to_text(reason)} + " ") != std::string::npos;
}

}  // namespace

Result<AuditLedger> AuditLedger::open(const Ports& ports, const AuditRequest& request) {
  AuditLedger ledger{ports, request};
  const std::string source = legible(request.source);
  const auto opened = request.resume ? ledger.find(request, source) : ledger.begin(request, source);
  if (!opened) return opened.failure();
  return ledger;
}

Result<void> AuditLedger::begin(const AuditRequest& request, const std::string& source) {
  const auto act = begin_act(*ports_, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = must_be_current(*act->unit, request.location); !ok) return ok;
  const auto before = act->unit->events_about(request.location, EventKind::AuditBegun);
  if (!before) return before.failure();
  name_ = request.location + "-" + std::to_string(before->size() + 1);
  begun_at_ = act->now;
  places_ = {request.location};
  const auto written =
      act->write(EventKind::AuditBegun, request.location, {}, {{"audit", name_}, {"source", source}});
  return written ? act->unit->commit() : written;
}

Result<void> AuditLedger::find(const AuditRequest& request, const std::string& source) {
  const auto act = begin_act(*ports_, request.operator_code);
  if (!act) return act.failure();
  const auto begun = act->unit->events_about(request.location, EventKind::AuditBegun);
  if (!begun) return begun.failure();
  for (auto event = begun->rbegin(); event != begun->rend(); ++event) {
    if (detail_of(*event, "source") != source) continue;
    name_ = detail_of(*event, "audit");
    begun_at_ = event->at;
    const auto ended = act->unit->events_about(name_, EventKind::AuditEnded);
    if (!ended) return ended.failure();
    places_ = {request.location};
    if (ended->empty()) return load(*act->unit);
  }
  return Failure{FailureCode::AuditUnknown, {{"location", request.location}}, {}};
}

Result<void> AuditLedger::load(const port::Unit& unit) {
  const auto events = unit.events_about(name_, EventKind::PackagesSeen);
  if (!events) return events.failure();
  for (const port::PastEvent& event : *events) remember(event);
  return {};
}

// Of several events about one label the last counts; an old label beside it once seen stays.
void AuditLedger::remember(const port::PastEvent& event) {
  last_frame_ = std::max(last_frame_, number_in(detail_of(event, "frame")));
  last_place_ = detail_of(event, "location");
  places_.push_back(last_place_);
  const auto how = core::parse<core::SeenHow>(detail_of(event, "how"));
  if (!how) return;
  const bool read = *how == core::SeenHow::Read;
  SeenLabel label;
  label.item.how = read ? CheckItem::How::Symbol : CheckItem::How::Matched;
  label.item.text = detail_of(event, read ? "label" : "package");
  label.first_frame = number_in(detail_of(event, "first_frame"));
  label.first_file = detail_of(event, "file");
  label.sightings = number_in(detail_of(event, "sightings"));
  label.corners = corners_in(detail_of(event, "corners"));
  label.seen_at = last_place_;
  const std::string reasons = detail_of(event, "reasons");
  label.old_label = lists(reasons, core::Reason::OldLabelInView);
  // It may have been what could not be told: the picture is gone, so the doubt stays.
  label.in_doubt_before = lists(reasons, core::Reason::RecordDamaged);
  label.written = detail_of(event, "outcome") + ":" + reasons;
  const auto known = std::find_if(earlier_.begin(), earlier_.end(), [&](const SeenLabel& one) {
    return one.item.how == label.item.how && one.item.text == label.item.text;
  });
  if (known == earlier_.end()) {
    earlier_.push_back(std::move(label));
  } else {
    label.old_label = label.old_label || known->old_label;
    label.in_doubt_before = label.in_doubt_before || known->in_doubt_before;
    *known = std::move(label);
  }
}

Result<void> AuditLedger::write_events(EventKind kind, const std::vector<Details>& events) const {
  return again_if_changed([&] { return write_events_once(kind, events); });
}

Result<void> AuditLedger::write_events_once(EventKind kind, const std::vector<Details>& events) const {
  const auto unit = ports_->store.begin(port::Access::Write);
  if (!unit) return unit.failure();
  for (const Details& details : events) {
    core::Change change;
    change.kind = kind;
    change.at = ports_->clock.now();
    change.operator_code = operator_code_;
    change.subject = name_;
    change.details = details;
    if (const auto written = (*unit)->write(change); !written) return written;
  }
  return (*unit)->commit();
}

Result<void> AuditLedger::write(const std::vector<SeenLabel*>& labels, int frame, const std::string& place) {
  std::vector<SeenLabel*> changed;
  std::vector<Details> events;
  for (SeenLabel* label : labels) {
    if (label->written == fingerprint(verdict_to_write(*label))) continue;
    changed.push_back(label);
    events.push_back(details_of(*label, frame));
  }
  if (changed.empty()) return {};
  // The place that counts afterwards is where the sweep is, not where the last label was seen first.
  events.push_back({{"frame", std::to_string(frame)}, {"location", place}});
  const auto written = write_events(EventKind::PackagesSeen, events);
  for (SeenLabel* label : changed) {
    label->unwritten_for.reset();
    if (written) {
      label->written = fingerprint(label->verdict());
    } else {
      label->unwritten_for = reason_after(written.failure());
    }
  }
  return written;
}

Result<void> AuditLedger::write_progress(int frame, const std::string& place) {
  return write_events(EventKind::PackagesSeen, {{{"frame", std::to_string(frame)}, {"location", place}}});
}

Result<void> AuditLedger::write_end(const Details& totals) {
  return write_events(EventKind::AuditEnded, {totals});
}

}  // namespace loadlight::app
