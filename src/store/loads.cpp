#include "loads.h"

#include "schema.h"

namespace loadlight::store {

using core::LeakTest;
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
       column<&Load::run>("run"),
       column<&Load::process_date>("process_date"),
       column<&Load::finished_at>("finished_at"),
       column<&Load::machine_counter>("machine_counter"),
       column<&Load::abort_reason>("abort_reason"),
       column<&Load::readings, &Readings::low_celsius>("low_celsius"),
       column<&Load::readings, &Readings::high_celsius>("high_celsius"),
       column<&Load::readings, &Readings::minutes>("exposure_minutes"),
       column<&Load::readings, &Readings::pressure_kpa>("pressure_kpa"),
       column<&Load::readings, &Readings::drying_minutes>("drying_minutes"),
       column<&Load::cycle_log>("cycle_log").refers_to("cycle_logs"),
       column<&Load::leak, &LeakTest::kpa_per_minute>("leak_kpa_per_minute"),
       column<&Load::leak, &LeakTest::passed>("leak_passed"),
       column<&Load::retest_of>("retest_of").refers_to("incidents"),
       column<&Load::decided_at>("decided_at"),
       column<&Load::decided_by>("decided_by"),
       column<&Load::emergency_reason>("emergency_reason"),
       column<&Load::emergency_second>("emergency_second"),
       column<&Load::implant_aboard>("implant_aboard")},
      // Readings are there as a whole or not at all.
      {{ConstraintKind::Check, "(low_celsius IS NULL) = (high_celsius IS NULL)"},
       {ConstraintKind::Check, "(low_celsius IS NULL) = (exposure_minutes IS NULL)"},
       {ConstraintKind::Check, "(low_celsius IS NULL) = (pressure_kpa IS NULL)"},
       {ConstraintKind::Check, "low_celsius IS NOT NULL OR drying_minutes IS NULL"},
       {ConstraintKind::Check, "(leak_kpa_per_minute IS NULL) = (leak_passed IS NULL)"},
       {ConstraintKind::Unique, "sterilizer, run"}},
      {{"loads_by_state", "state, sterilizer, number"},
       {"loads_by_counter", "sterilizer, machine_counter, number"},
       {"loads_by_purpose", "sterilizer, purpose, run"},
       {"loads_by_day", "process_date, sterilizer, run"},
       {"loads_by_retest", "retest_of, run"},
       {"loads_by_emergency", "state, emergency_reason, sterilizer, number"}}};
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

core::Result<int> Loads::highest_run(std::string_view sterilizer) const {
  return highest(session_, "SELECT max(run) FROM loads WHERE sterilizer = $1", {std::string{sterilizer}});
}

core::Result<std::vector<Load>> Loads::of_runs(const port::RunRange& runs) const {
  return table_of<Load>().select(session_,
                                 "WHERE sterilizer = $1 AND run BETWEEN $2 AND $3"
                                 " AND (program = $4 OR $4 IS NULL) ORDER BY run",
                                 {runs.sterilizer, runs.first, runs.last, encode_optional(runs.program)});
}

core::Result<std::vector<Load>> Loads::of_day(std::string_view sterilizer, core::CivilDate day) const {
  return table_of<Load>().select(session_, "WHERE process_date = $1 AND sterilizer = $2 ORDER BY run",
                                 {encode(day), std::string{sterilizer}});
}

// A day at a time: no statement is under way while a load is visited, and memory holds one day's loads.
core::Result<void> Loads::of_days(core::CivilDate first, core::CivilDate last,
                                  const std::function<void(const Load&)>& visit) const {
  const auto day_from = [&](core::CivilDate from) {
    return highest(session_, "SELECT min(process_date) FROM loads WHERE process_date BETWEEN $1 AND $2",
                   {encode(from), encode(last)});
  };
  auto day = day_from(first);
  while (day && *day != 0) {
    const auto loads = table_of<Load>().select(
        session_, "WHERE process_date = $1 ORDER BY sterilizer, run", {std::int64_t{*day}});
    if (!loads) return loads.failure();
    for (const Load& load : *loads) visit(load);
    core::CivilDate next = first;
    if (!decode(SqlValue{std::int64_t{*day}}, next)) return session_.damaged("loads: process_date");
    day = day_from(next.plus_days(1));
  }
  if (!day) return day.failure();
  return {};
}

core::Result<std::vector<Load>> Loads::of_purpose_before(std::string_view sterilizer,
                                                         core::LoadPurpose purpose, int run,
                                                         int limit) const {
  return table_of<Load>().select(
      session_, "WHERE sterilizer = $1 AND purpose = $2 AND run < $3 ORDER BY run DESC LIMIT $4",
      {std::string{sterilizer}, encode(purpose), run, limit});
}

core::Result<std::vector<Load>> Loads::in_state(core::LoadState state) const {
  return table_of<Load>().select(session_, "WHERE state = $1 ORDER BY sterilizer, number", {encode(state)});
}

core::Result<std::vector<Load>> Loads::released_as_emergency() const {
  return table_of<Load>().select(session_,
                                 "WHERE state = 'released' AND emergency_reason > ''"
                                 " ORDER BY emergency_reason, sterilizer, number",
                                 {});
}

core::Result<std::vector<Load>> Loads::search(const port::LoadSearch& search, port::SearchPage page) const {
  return table_of<Load>().select(
      session_,
      "WHERE (sterilizer = $1 OR $1 IS NULL) AND (number = $2 OR $2 IS NULL)"
      " AND (decided_by = $3 OR $3 IS NULL) AND (process_date >= $4 OR $4 IS NULL)"
      " AND (process_date <= $5 OR $5 IS NULL)"
      " ORDER BY process_date IS NULL, process_date DESC, sterilizer, number DESC LIMIT $6 OFFSET $7",
      {encode_optional(search.sterilizer), encode_optional(search.number), encode_optional(search.decided_by),
       encode_optional(search.first), encode_optional(search.last), page.limit, page.skip});
}

core::Result<std::vector<Load>> Loads::retests_of(int incident) const {
  return table_of<Load>().select(session_, "WHERE retest_of = $1 AND run IS NOT NULL ORDER BY run", {incident});
}

}  // namespace loadlight::store
