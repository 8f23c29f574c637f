#include "schema.h"

namespace loadlight::store {

using core::OfficeSetting;

template <>
const RecordTable<OfficeSetting>& table_of() {
  static const RecordTable<OfficeSetting> table{
      "settings",
      "setting",
      {column<&OfficeSetting::name>("name").key(), column<&OfficeSetting::value>("value"),
       column<&OfficeSetting::why>("why"), column<&OfficeSetting::set_by>("set_by").refers_to("operators"),
       column<&OfficeSetting::set_at>("set_at")}};
  return table;
}

}  // namespace loadlight::store
