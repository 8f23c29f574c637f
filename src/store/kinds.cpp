#include "schema.h"

namespace loadlight::store {

using core::PackageKind;

template <>
const RecordTable<PackageKind>& table_of() {
  static const RecordTable<PackageKind> table{
      "kinds",
      "kind",
      {column<&PackageKind::code>("code").key(), column<&PackageKind::name>("name"),
       column<&PackageKind::wrapping>("wrapping"), column<&PackageKind::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
