#include "schema.h"

namespace loadlight::store {

using core::OfficeProgram;

template <>
const RecordTable<OfficeProgram>& table_of() {
  static const RecordTable<OfficeProgram> table{
      "programs",
      "program",
      {column<&OfficeProgram::code>("code").key(), column<&OfficeProgram::name>("name"),
       column<&OfficeProgram::sterilizer>("sterilizer").refers_to("sterilizers"),
       column<&OfficeProgram::load_kind>("load_kind"), column<&OfficeProgram::celsius>("celsius"),
       column<&OfficeProgram::exposure_minutes>("exposure_minutes"),
       column<&OfficeProgram::drying_minutes>("drying_minutes"),
       column<&OfficeProgram::document>("document"), column<&OfficeProgram::page>("page"),
       column<&OfficeProgram::entered_by>("entered_by").refers_to("operators"),
       column<&OfficeProgram::entered_at>("entered_at"),
       column<&OfficeProgram::accepted_by>("accepted_by"),
       column<&OfficeProgram::retired_on>("retired_on")}};
  return table;
}

}  // namespace loadlight::store
