#include "evidence.h"

#include <algorithm>

#include "schema.h"

namespace loadlight::store {

using core::BiologicalReading;
using core::BiologicalRun;
using core::CycleLog;
using core::IndicatorReading;
using core::LoadName;

namespace {

constexpr std::string_view kOfLoad = "WHERE load_sterilizer = $1 AND load_number = $2 ORDER BY number";

}  // namespace

template <>
const RecordTable<IndicatorReading>& table_of() {
  using Reading = IndicatorReading;
  static const RecordTable<Reading> table{
      "indicators",
      "indicator",
      {column<&Reading::number>("number").key(),
       column<&Reading::load, &LoadName::sterilizer>("load_sterilizer"),
       column<&Reading::load, &LoadName::number>("load_number"), column<&Reading::place>("place"),
       column<&Reading::type>("type").between(1, 6), column<&Reading::lot>("lot"),
       column<&Reading::expires>("expires"), column<&Reading::passed>("passed"),
       column<&Reading::package>("package").refers_to("packages"),
       column<&Reading::read_by>("read_by").refers_to("operators"), column<&Reading::read_at>("read_at"),
       column<&Reading::stated_celsius>("stated_celsius"),
       column<&Reading::stated_minutes>("stated_minutes"), column<&Reading::why>("why")},
      {load_reference()},
      {{"indicators_by_load", "load_sterilizer, load_number, number"}}};
  return table;
}

template <>
const RecordTable<BiologicalReading>& table_of() {
  using Reading = BiologicalReading;
  static const RecordTable<Reading> table{
      "biologicals",
      "biological",
      {column<&Reading::number>("number").key(),
       column<&Reading::load, &LoadName::sterilizer>("load_sterilizer"),
       column<&Reading::load, &LoadName::number>("load_number"), column<&Reading::lot>("lot"),
       column<&Reading::test>("test"), column<&Reading::control>("control"),
       column<&Reading::control_lot>("control_lot"),
       column<&Reading::read_by>("read_by").refers_to("operators"), column<&Reading::read_at>("read_at"),
       column<&Reading::of_run>("of_run").refers_to("biological_runs"),
       column<&Reading::received_on>("received_on"), column<&Reading::reported_on>("reported_on"),
       column<&Reading::report_file>("report_file"), column<&Reading::why>("why")},
      {load_reference()},
      {{"biologicals_by_load", "load_sterilizer, load_number, number"},
       {"biologicals_by_run", "of_run"}}};
  return table;
}

template <>
const RecordTable<BiologicalRun>& table_of() {
  static const RecordTable<BiologicalRun> table{
      "biological_runs",
      "biological-run",
      {column<&BiologicalRun::number>("number").key(),
       column<&BiologicalRun::load, &LoadName::sterilizer>("load_sterilizer"),
       column<&BiologicalRun::load, &LoadName::number>("load_number"),
       column<&BiologicalRun::lot>("lot"), column<&BiologicalRun::control_lot>("control_lot"),
       column<&BiologicalRun::expires>("expires"), column<&BiologicalRun::reader>("reader"),
       column<&BiologicalRun::service>("service"),
       column<&BiologicalRun::placed_by>("placed_by").refers_to("operators"),
       column<&BiologicalRun::placed_at>("placed_at"), column<&BiologicalRun::incubated_at>("incubated_at"),
       column<&BiologicalRun::sent_on>("sent_on"), column<&BiologicalRun::due_at>("due_at")},
      {load_reference()},
      {{"biological_runs_by_load", "load_sterilizer, load_number, number"},
       {"biological_runs_by_due", "due_at, number"}}};
  return table;
}

template <>
const RecordTable<CycleLog>& table_of() {
  static const RecordTable<CycleLog> table{
      "cycle_logs",
      "cycle-log",
      {column<&CycleLog::number>("number").key(),
       column<&CycleLog::load, &LoadName::sterilizer>("load_sterilizer"),
       column<&CycleLog::load, &LoadName::number>("load_number"), column<&CycleLog::file>("file"),
       column<&CycleLog::mapping>("mapping"), column<&CycleLog::findings>("findings"),
       column<&CycleLog::curve>("curve"), column<&CycleLog::read_by>("read_by").refers_to("operators"),
       column<&CycleLog::read_at>("read_at"), column<&CycleLog::why>("why")},
      {load_reference()}};
  return table;
}

core::Result<std::vector<IndicatorReading>> Evidence::indicators_of(const LoadName& load) const {
  return table_of<IndicatorReading>().select(session_, kOfLoad, {load.sterilizer, load.number});
}

core::Result<std::vector<BiologicalReading>> Evidence::biologicals_of(const LoadName& load) const {
  return table_of<BiologicalReading>().select(session_, kOfLoad, {load.sterilizer, load.number});
}

core::Result<int> Evidence::highest_indicator_number() const {
  return highest(session_, "SELECT max(number) FROM indicators");
}

core::Result<int> Evidence::highest_biological_number() const {
  return highest(session_, "SELECT max(number) FROM biologicals");
}

core::Result<std::vector<BiologicalRun>> Evidence::runs_of(const LoadName& load) const {
  return table_of<BiologicalRun>().select(session_, kOfLoad, {load.sterilizer, load.number});
}

core::Result<std::optional<BiologicalRun>> Evidence::find_run(int number) const {
  return table_of<BiologicalRun>().select_first(session_, "WHERE number = $1", {number});
}

core::Result<std::vector<BiologicalRun>> Evidence::open_runs() const {
  return table_of<BiologicalRun>().select(
      session_,
      "WHERE NOT EXISTS (SELECT 1 FROM biologicals b WHERE b.of_run = biological_runs.number)"
      " ORDER BY due_at, number",
      {});
}

core::Result<int> Evidence::highest_run_number() const {
  return highest(session_, "SELECT max(number) FROM biological_runs");
}

core::Result<std::vector<BiologicalReading>> Evidence::biologicals_of_sterilizer(
    std::string_view sterilizer) const {
  return table_of<BiologicalReading>().select(
      session_, "WHERE load_sterilizer = $1 ORDER BY load_number, number", {std::string{sterilizer}});
}

core::Result<int> Evidence::newest_tested_before(std::string_view sterilizer, int load) const {
  int newest = 0;
  for (const char* table : {"biological_runs", "biologicals"}) {
    const auto number = highest(session_, std::string{"SELECT max(load_number) FROM "} + table +
                                              " WHERE load_sterilizer = $1 AND load_number < $2",
                                {std::string{sterilizer}, load});
    if (!number) return number.failure();
    newest = std::max(newest, *number);
  }
  return newest;
}

core::Result<std::vector<LoadName>> Evidence::loads_of_lot(std::string_view lot) const {
  const auto rows = session_.rows(
      "SELECT load_sterilizer, load_number FROM indicators WHERE lot = $1"
      " UNION SELECT load_sterilizer, load_number FROM biological_runs WHERE lot = $1 OR control_lot = $1"
      " UNION SELECT load_sterilizer, load_number FROM biologicals WHERE lot = $1 OR control_lot = $1"
      " ORDER BY load_sterilizer, load_number",
      {std::string{lot}});
  if (!rows) return rows.failure();
  std::vector<LoadName> names;
  for (const SqlRow& row : *rows) {
    LoadName name;
    if (!decode(row[0], name.sterilizer) || !decode(row[1], name.number)) return session_.damaged("indicators");
    names.push_back(std::move(name));
  }
  return names;
}

core::Result<std::optional<CycleLog>> Evidence::find_log(int number) const {
  return table_of<CycleLog>().select_first(session_, "WHERE number = $1", {number});
}

core::Result<int> Evidence::highest_log_number() const {
  return highest(session_, "SELECT max(number) FROM cycle_logs");
}

}  // namespace loadlight::store
