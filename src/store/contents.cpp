#include "schema.h"

namespace loadlight::store {

using core::Contents;

template <>
const RecordTable<Contents>& table_of() {
  static const RecordTable<Contents> table{
      "contents",
      "contents",
      {column<&Contents::code>("code").key(), column<&Contents::name>("name"),
       column<&Contents::items>("items"), column<&Contents::implant>("implant"),
       column<&Contents::hinged>("hinged"), column<&Contents::not_stainless>("not_stainless"),
       column<&Contents::hollow>("hollow"), column<&Contents::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
