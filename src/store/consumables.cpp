#include "schema.h"

namespace loadlight::store {

using core::Consumable;

template <>
const RecordTable<Consumable>& table_of() {
  static const RecordTable<Consumable> table{
      "consumables",
      "consumable",
      {column<&Consumable::lot>("lot").key(), column<&Consumable::kind>("kind"),
       column<&Consumable::name>("name"), column<&Consumable::expires>("expires"),
       column<&Consumable::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
