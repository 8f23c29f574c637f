#include "incidents.h"

#include "schema.h"

namespace loadlight::store {

using core::Accounting;
using core::Incident;
using core::IncidentStep;

template <>
Accounting blank() {
  return {0, blank<core::PackageId>(), core::Disposition::Withdrawn, {}, {}, {}};
}

template <>
const RecordTable<Incident>& table_of() {
  static const RecordTable<Incident> table{
      "incidents",
      "incident",
      {column<&Incident::number>("number").key(), column<&Incident::cause>("cause"),
       column<&Incident::state>("state"),
       column<&Incident::sterilizer>("sterilizer").refers_to("sterilizers"),
       column<&Incident::load_number>("load_number"), column<&Incident::first_run>("first_run"),
       column<&Incident::last_run>("last_run"), column<&Incident::program>("program"),
       column<&Incident::procedure>("procedure"), column<&Incident::profile>("profile"),
       column<&Incident::recall>("recall"), column<&Incident::sterilizer_held>("sterilizer_held"),
       column<&Incident::narrowed_why>("narrowed_why"),
       column<&Incident::opened_by>("opened_by").refers_to("operators"),
       column<&Incident::opened_at>("opened_at"), column<&Incident::closed_by>("closed_by"),
       column<&Incident::closed_at>("closed_at"), column<&Incident::note>("note")},
      {},
      {{"incidents_by_state", "state, number"}}};
  return table;
}

template <>
const RecordTable<IncidentStep>& table_of() {
  static const RecordTable<IncidentStep> table{
      "incident_steps",
      "incident-step",
      {column<&IncidentStep::number>("number").key(),
       column<&IncidentStep::incident>("incident").refers_to("incidents"),
       column<&IncidentStep::step>("step"), column<&IncidentStep::finding>("finding"),
       column<&IncidentStep::note>("note"),
       column<&IncidentStep::done_by>("done_by").refers_to("operators"),
       column<&IncidentStep::done_at>("done_at")},
      {},
      {{"incident_steps_by_incident", "incident, number"}}};
  return table;
}

template <>
const RecordTable<Accounting>& table_of() {
  static const RecordTable<Accounting> table{
      "accountings",
      "accounting",
      {column<&Accounting::incident>("incident").key().refers_to("incidents"),
       column<&Accounting::package>("package").key().refers_to("packages"),
       column<&Accounting::disposition>("disposition"), column<&Accounting::why>("why"),
       column<&Accounting::accounted_by>("accounted_by").refers_to("operators"),
       column<&Accounting::accounted_at>("accounted_at")}};
  return table;
}

core::Result<std::optional<Incident>> Incidents::find(int number) const {
  return table_of<Incident>().select_first(session_, "WHERE number = $1", {number});
}

core::Result<std::vector<Incident>> Incidents::all() const {
  return table_of<Incident>().select(session_, "ORDER BY number", {});
}

core::Result<std::vector<Incident>> Incidents::open_ones() const {
  return table_of<Incident>().select(session_, "WHERE state = 'open' ORDER BY number", {});
}

core::Result<int> Incidents::highest_number() const {
  return highest(session_, "SELECT max(number) FROM incidents");
}

core::Result<std::vector<IncidentStep>> IncidentWork::steps_of(int incident) const {
  return table_of<IncidentStep>().select(session_, "WHERE incident = $1 ORDER BY number", {incident});
}

core::Result<int> IncidentWork::highest_step_number() const {
  return highest(session_, "SELECT max(number) FROM incident_steps");
}

core::Result<std::vector<Accounting>> IncidentWork::accounted_in(int incident) const {
  return table_of<Accounting>().select(session_, "WHERE incident = $1 ORDER BY package", {incident});
}

}  // namespace loadlight::store
