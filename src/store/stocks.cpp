#include "schema.h"

namespace loadlight::store {

using core::LabelStock;

template <>
const RecordTable<LabelStock>& table_of() {
  static const RecordTable<LabelStock> table{
      "stocks",
      "stock",
      {column<&LabelStock::code>("code").key(), column<&LabelStock::name>("name"),
       column<&LabelStock::method>("method"), column<&LabelStock::dpi>("dpi").between(100, 1200),
       column<&LabelStock::rating>("rating"), column<&LabelStock::rating_note>("rating_note"),
       column<&LabelStock::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
