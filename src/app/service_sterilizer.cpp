#include "loadlight/app/service_sterilizer.h"

#include "app/incident_moves.h"
#include "app/load_moves.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;
using core::ServiceKind;

constexpr std::size_t kLongestNote = 500;

Result<void> check_note(const char* field, const std::string& note) {
  if (note.empty()) return Failure{FailureCode::ReasonMissing, {{"field", field}}, {}};
  if (note.size() > kLongestNote) {
    return Failure{FailureCode::BadValue, {{"field", field}, {"given", note.substr(0, 60)}}, {}};
  }
  return {};
}

Result<core::ServiceEntry> new_entry(const Act& act, const std::string& sterilizer, ServiceKind kind,
                                     const std::string& note) {
  const auto highest = act.unit->services().highest_number();
  if (!highest) return highest.failure();
  core::ServiceEntry entry;
  entry.number = *highest + 1;
  entry.sterilizer = sterilizer;
  entry.kind = kind;
  entry.note = note;
  entry.done_by = act.who.code;
  entry.done_at = act.now;
  return entry;
}

Result<void> write_and_commit(const Act& act, const core::ServiceEntry& entry,
                              std::vector<core::Record> more) {
  std::vector<core::Record> records{entry};
  records.insert(records.end(), more.begin(), more.end());
  const auto written = act.write(EventKind::SterilizerServiced, entry.sterilizer, std::move(records),
                                 {{"kind", std::string{core::to_text(entry.kind)}}});
  if (!written) return written;
  return act.unit->commit();
}

// The incidents that hold a sterilizer; ReturnNotAllowed while one of them still asks something.
Result<std::vector<core::Incident>> incidents_to_let_go(const Act& act, const std::string& sterilizer) {
  const auto open = act.unit->incidents().open_ones();
  if (!open) return open.failure();
  std::vector<core::Incident> held;
  Failure refused{FailureCode::ReturnNotAllowed, {{"sterilizer", sterilizer}}, {}};
  for (const core::Incident& incident : *open) {
    if (incident.sterilizer != sterilizer || !incident.sterilizer_held) continue;
    const auto facts = facts_of(*act.unit, incident, act.now);
    if (!facts) return facts.failure();
    for (const core::Obstacle& obstacle : core::obstacles_to_return(*facts)) {
      refused.items.push_back(sentence_for(obstacle));
    }
    held.push_back(incident);
  }
  if (!refused.items.empty()) return refused;
  return held;
}

}  // namespace

Result<core::ServiceEntry> record_service(const Ports& ports, const ServiceRequest& request) {
  if (const auto ok = check_note("note", request.note); !ok) return ok.failure();
  if (request.kind == ServiceKind::OutOfService || request.kind == ServiceKind::Returned) {
    return Failure{
        FailureCode::BadValue, {{"field", "kind"}, {"given", std::string{core::to_text(request.kind)}}}, {}};
  }
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto sterilizer = known_sterilizer(*act->unit, request.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  auto entry = new_entry(*act, request.sterilizer, request.kind, request.note);
  if (!entry) return entry;
  entry->counter_reset = request.counter_reset;
  entry->next_due = request.next_due;
  if (const auto ok = write_and_commit(*act, *entry, {}); !ok) return ok.failure();
  return entry;
}

Result<core::Sterilizer> take_out_of_service(const Ports& ports, const OutOfServiceRequest& request) {
  if (const auto ok = check_note("why", request.why); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto sterilizer = known_sterilizer(*act->unit, request.sterilizer);
  if (!sterilizer || !sterilizer->in_service) return sterilizer;
  const auto entry = new_entry(*act, request.sterilizer, ServiceKind::OutOfService, request.why);
  if (!entry) return entry.failure();
  sterilizer->in_service = false;
  if (const auto ok = write_and_commit(*act, *entry, {*sterilizer}); !ok) return ok.failure();
  return sterilizer;
}

Result<core::Sterilizer> return_to_service(const Ports& ports, const ReturnRequest& request) {
  if (const auto ok = check_note("note", request.note); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  auto sterilizer = known_sterilizer(*act->unit, request.sterilizer);
  if (!sterilizer || sterilizer->in_service) return sterilizer;
  auto held = incidents_to_let_go(*act, request.sterilizer);
  if (!held) return held.failure();
  const auto entry = new_entry(*act, request.sterilizer, ServiceKind::Returned, request.note);
  if (!entry) return entry.failure();
  sterilizer->in_service = true;
  std::vector<core::Record> records{*sterilizer};
  for (core::Incident& incident : *held) {
    incident.sterilizer_held = false;
    records.emplace_back(incident);
  }
  if (const auto ok = write_and_commit(*act, *entry, std::move(records)); !ok) return ok.failure();
  return sterilizer;
}

Result<std::vector<core::ServiceEntry>> service_log(const Ports& ports, const std::string& sterilizer) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  if (const auto ok = known_sterilizer(**unit, sterilizer);
      !ok && ok.failure().code == FailureCode::CodeUnknown) {
    return ok.failure();
  }
  return (**unit).services().of_sterilizer(sterilizer);
}

}  // namespace loadlight::app
