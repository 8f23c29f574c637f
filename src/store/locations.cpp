#include "schema.h"

namespace loadlight::store {

using core::Location;

template <>
const RecordTable<Location>& table_of() {
  static const RecordTable<Location> table{
      "locations",
      "location",
      {column<&Location::code>("code").key(), column<&Location::name>("name"),
       column<&Location::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
