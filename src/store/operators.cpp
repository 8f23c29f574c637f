#include "schema.h"

namespace loadlight::store {

using core::Operator;

template <>
const RecordTable<Operator>& table_of() {
  static const RecordTable<Operator> table{
      "operators",
      "operator",
      {column<&Operator::code>("code").key(), column<&Operator::name>("name"),
       column<&Operator::role>("role"), column<&Operator::first_day>("first_day"),
       column<&Operator::last_day>("last_day")}};
  return table;
}

}  // namespace loadlight::store
