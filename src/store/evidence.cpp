#include "evidence.h"

#include "schema.h"

namespace loadlight::store {

using core::BiologicalReading;
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
       column<&Reading::read_by>("read_by").refers_to("operators"), column<&Reading::read_at>("read_at")},
      {std::string{kLoadReference}},
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
       column<&Reading::read_by>("read_by").refers_to("operators"), column<&Reading::read_at>("read_at")},
      {std::string{kLoadReference}},
      {{"biologicals_by_load", "load_sterilizer, load_number, number"}}};
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

}  // namespace loadlight::store
