#include "app/package_lookup.h"

#include "app/clock_trust.h"
#include "app/rules_in_force.h"
#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::FailureCode;
using core::RecordState;
using core::Result;

// Takes a store's answer into place; a failure marks the record.
template <class T>
const T* take(const core::Result<T>& answer, core::PackageFacts& facts) {
  if (answer) return &*answer;
  facts.record = state_after(answer.failure());
  return nullptr;
}

core::Seen seen_as(const core::PayloadText& text) {
  struct Visitor {
    core::Seen operator()(const core::NotOursText&) { return core::Seen::Nothing; }
    core::Seen operator()(const core::PackageLabelText&) { return core::Seen::PackageLabel; }
    core::Seen operator()(const core::ChartCopyText&) { return core::Seen::ChartCopy; }
    core::Seen operator()(const core::LaterFormText&) { return core::Seen::LaterForm; }
    core::Seen operator()(const core::ShelfTagText&) { return core::Seen::Nothing; }
    core::Seen operator()(const core::BadgeText&) { return core::Seen::Nothing; }
  };
  return std::visit(Visitor{}, text);
}

// Within the tolerance a clock may stand a little behind, while the record knows that midnight has passed. Of a
// clock that is further behind nobody can tell whether it or the record is wrong.
void look_up_time(const Ports& ports, const port::Unit& unit, const core::Office& office,
                  core::PackageFacts& facts) {
  const core::Instant now = ports.clock.now();
  const auto behind = is_clock_behind(unit, office, now);
  const auto latest = latest_day(ports, unit);
  const bool* answer = take(behind, facts);
  const core::CivilDate* day = take(latest, facts);
  if (!answer || !day) return;
  facts.clock_behind = *answer;
  facts.today = *answer ? ports.zone.local_date(now) : *day;
}

bool is_overdue(const core::Load& load, const std::optional<core::Program>& program, core::Instant now) {
  if (!program || !load.started_at) return true;
  return now - *load.started_at > core::Minutes{program->longest_run_minutes};
}

void look_up_load(const Ports& ports, const port::Unit& unit, Lookup& found) {
  const auto load = unit.loads().find(found.package->load);
  const auto incidents = unit.incidents().open_ones();
  const auto* row = take(load, found.facts);
  const auto* open = take(incidents, found.facts);
  if (!row || !open || !*row) return;
  found.load = **row;
  const auto program = program_in_force(unit, found.load->program, found.load->name.sterilizer);
  const auto* run_by = take(program, found.facts);
  if (!run_by) return;
  core::LoadOnRecord facts;
  facts.state = found.load->state;
  facts.process_date = found.load->process_date;
  facts.overdue = is_overdue(*found.load, *run_by, ports.clock.now());
  for (const core::Incident& incident : *open) {
    facts.in_open_incident = facts.in_open_incident || incident.covers(*found.load);
  }
  found.facts.load = facts;
}

// How many days before its process date the package's load may have been run, after a clock that stood ahead.
Result<int> days_in_doubt(const Ports& ports, const port::Unit& unit, const core::Package& package) {
  const auto doubt = doubt_about(unit, package.load);
  if (!doubt) return doubt.failure();
  const auto load = unit.loads().find(package.load);
  if (!load) return load.failure();
  if (doubt->count() == 0 || !*load || !(**load).started_at) return 0;
  const core::Instant started = *(**load).started_at;
  return ports.zone.local_date(started - *doubt).days_until(ports.zone.local_date(started));
}

void look_up_package(const Ports& ports, const port::Unit& unit, const core::Office& office,
                     const Naming& naming, Lookup& found) {
  const core::Package& package = *found.package;
  const auto doubt = days_in_doubt(ports, unit, package);
  const int* days = take(doubt, found.facts);
  if (!days) return;
  found.days_in_doubt = *days;
  const auto kind = unit.kinds().find(package.kind);
  const auto contents = unit.contents().find(package.contents);
  const auto* kind_row = take(kind, found.facts);
  const auto* contents_row = take(contents, found.facts);
  const auto profile = profile_in_force(unit, office);
  const auto* caps = take(profile, found.facts);
  if (!kind_row || !*kind_row || !contents_row || !*contents_row || !caps) return;
  found.contents = **contents_row;
  core::PackageOnRecord facts{package.state,        package.recalled, false,
                              package.process_date, package.use_by,   std::nullopt};
  facts.label_differs_from_issue =
      naming.label && naming.label->signed_part + naming.label->authenticator != package.payload;
  if (facts.use_by) facts.use_by = facts.use_by->plus_days(-*days);
  facts.last_day_by_profile = core::last_day_by_profile(*caps, (**kind_row).wrapping,
                                                        package.process_date.plus_days(-*days));
  found.facts.package = facts;
}

}  // namespace

RecordState state_after(const core::Failure& failure) {
  return failure.code == FailureCode::RecordDamaged ? RecordState::Damaged : RecordState::Unreachable;
}

core::Reason reason_after(const core::Failure& failure) {
  return state_after(failure) == RecordState::Damaged ? core::Reason::RecordDamaged
                                                      : core::Reason::RecordUnreachable;
}

Naming name_package(const CheckItem& item) {
  Naming naming;
  if (item.how != CheckItem::How::Symbol) {
    const auto seen = item.how == CheckItem::How::TypedId ? core::Seen::TypedId : core::Seen::Matched;
    naming.id = core::PackageId::parse_typed(item.text);
    naming.seen = naming.id ? seen : core::Seen::Nothing;
    return naming;
  }
  const core::PayloadText text = core::parse_payload(item.text);
  naming.seen = seen_as(text);
  if (const auto* label = std::get_if<core::PackageLabelText>(&text)) {
    naming.id = label->fields.package;
    naming.fields = label->fields;
    naming.label = *label;
  }
  return naming;
}

Lookup look_up(const Ports& ports, const port::Unit& unit, const Naming& naming) {
  Lookup found;
  found.facts.seen = naming.seen;
  found.facts.old_label_beside = false;
  found.facts.record = RecordState::Whole;
  const auto office = unit.office();
  const core::Office* row = take(office, found.facts);
  if (!row) return found;
  look_up_time(ports, unit, *row, found.facts);
  if (naming.label) {
    found.facts.authentic = ports.keyring.verifies(naming.label->signed_part, naming.label->authenticator);
  }
  if (!naming.id) return found;
  const auto package = unit.packages().find(*naming.id);
  const auto* answer = take(package, found.facts);
  if (!answer) return found;
  found.facts.in_record = answer->has_value();
  if (!*answer) return found;
  found.package = **answer;
  look_up_package(ports, unit, *row, naming, found);
  look_up_load(ports, unit, found);
  return found;
}

}  // namespace loadlight::app
