#include "incidents.h"

#include "schema.h"

namespace loadlight::store {

using core::Incident;

template <>
const RecordTable<Incident>& table_of() {
  static const RecordTable<Incident> table{
      "incidents",
      "incident",
      {column<&Incident::number>("number").key(), column<&Incident::cause>("cause"),
       column<&Incident::state>("state"),
       column<&Incident::sterilizer>("sterilizer").refers_to("sterilizers"),
       column<&Incident::first_load>("first_load"), column<&Incident::last_load>("last_load"),
       column<&Incident::opened_by>("opened_by").refers_to("operators"),
       column<&Incident::opened_at>("opened_at"), column<&Incident::note>("note")},
      {},
      {{"incidents_by_state", "state, number"}}};
  return table;
}

core::Result<std::vector<Incident>> Incidents::open_ones() const {
  return table_of<Incident>().select(session_, "WHERE state = 'open' ORDER BY number", {});
}

core::Result<int> Incidents::highest_number() const {
  return highest(session_, "SELECT max(number) FROM incidents");
}

}  // namespace loadlight::store
