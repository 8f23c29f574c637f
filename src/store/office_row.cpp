#include "office_row.h"

#include "schema.h"

namespace loadlight::store {

using core::Office;

template <>
const RecordTable<Office>& table_of() {
  static const RecordTable<Office> table{
      "office",
      "office",
      {only_row<Office>(), column<&Office::name>("name"), column<&Office::zone>("zone"),
       column<&Office::profile>("profile"), column<&Office::language>("language"),
       column<&Office::shelf_life_days>("shelf_life_days").between(1, 3650),
       column<&Office::clock_tolerance_minutes>("clock_tolerance_minutes"),
       column<&Office::near_days>("near_days"), column<&Office::made_at>("made_at")}};
  return table;
}

core::Result<Office> read_office(SqlSession& session) {
  auto office = table_of<Office>().select_first(session, "", {});
  if (!office) return office.failure();
  if (!*office) return session.damaged("the record has no office");
  return std::move(**office);
}

}  // namespace loadlight::store
