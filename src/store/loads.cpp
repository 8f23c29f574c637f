#include "loads.h"

#include "schema.h"

namespace loadlight::store {

using core::Load;
using core::LoadName;
using core::Readings;

template <>
const RecordTable<Load>& table_of() {
  static const RecordTable<Load> table{
      "loads",
      "load",
      {column<&Load::name, &LoadName::sterilizer>("sterilizer").key().refers_to("sterilizers"),
       column<&Load::name, &LoadName::number>("number").key().between(1, LoadName::kLastNumber),
       column<&Load::state>("state"),
       column<&Load::program>("program"),
       column<&Load::purpose>("purpose"),
       column<&Load::loose_items>("loose_items"),
       column<&Load::opened_at>("opened_at"),
       column<&Load::started_at>("started_at"),
       column<&Load::process_date>("process_date"),
       column<&Load::finished_at>("finished_at"),
       column<&Load::machine_counter>("machine_counter"),
       column<&Load::abort_reason>("abort_reason"),
       column<&Load::readings, &Readings::low_celsius>("low_celsius"),
       column<&Load::readings, &Readings::high_celsius>("high_celsius"),
       column<&Load::readings, &Readings::minutes>("exposure_minutes"),
       column<&Load::readings, &Readings::pressure_kpa>("pressure_kpa"),
       column<&Load::readings, &Readings::drying_minutes>("drying_minutes"),
       column<&Load::decided_at>("decided_at"),
       column<&Load::decided_by>("decided_by"),
       column<&Load::emergency_reason>("emergency_reason"),
       column<&Load::emergency_second>("emergency_second"),
       column<&Load::implant_aboard>("implant_aboard")},
      // Readings are there as a whole or not at all.
      {"CHECK ((low_celsius IS NULL) = (high_celsius IS NULL))",
       "CHECK ((low_celsius IS NULL) = (exposure_minutes IS NULL))",
       "CHECK ((low_celsius IS NULL) = (pressure_kpa IS NULL))",
       "CHECK (low_celsius IS NOT NULL OR drying_minutes IS NULL)"},
      {{"loads_by_state", "sterilizer, state, number"},
       {"loads_by_counter", "sterilizer, machine_counter, number"}}};
  return table;
}

core::Result<std::optional<Load>> Loads::find(const LoadName& name) const {
  return table_of<Load>().select_first(session_, "WHERE sterilizer = $1 AND number = $2",
                                       {name.sterilizer, name.number});
}

core::Result<std::vector<Load>> Loads::newest_of(std::string_view sterilizer, int limit) const {
  return table_of<Load>().select(session_, "WHERE sterilizer = $1 ORDER BY number DESC LIMIT $2",
                                 {std::string{sterilizer}, limit});
}

core::Result<int> Loads::highest_number(std::string_view sterilizer) const {
  return highest(session_, "SELECT max(number) FROM loads WHERE sterilizer = $1", {std::string{sterilizer}});
}

core::Result<std::optional<Load>> Loads::first_reserved(std::string_view sterilizer) const {
  return table_of<Load>().select_first(session_,
                                       "WHERE sterilizer = $1 AND state = 'reserved' ORDER BY number LIMIT 1",
                                       {std::string{sterilizer}});
}

// After a service has reset a machine's counter the same count can return: the newest load is meant.
core::Result<std::optional<Load>> Loads::with_counter(std::string_view sterilizer, int counter) const {
  return table_of<Load>().select_first(
      session_, "WHERE sterilizer = $1 AND machine_counter = $2 ORDER BY number DESC LIMIT 1",
      {std::string{sterilizer}, counter});
}

}  // namespace loadlight::store
