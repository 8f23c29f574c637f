#include "schema.h"

namespace loadlight::store {

using core::Sterilizer;

template <>
const RecordTable<Sterilizer>& table_of() {
  static const RecordTable<Sterilizer> table{
      "sterilizers",
      "sterilizer",
      {column<&Sterilizer::code>("code").key(), column<&Sterilizer::name>("name"),
       column<&Sterilizer::removal>("removal"), column<&Sterilizer::type>("type"),
       column<&Sterilizer::in_service>("in_service"), column<&Sterilizer::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
