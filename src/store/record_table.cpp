#include "record_table.h"

namespace loadlight::store {

core::Result<int> highest(SqlSession& session, std::string_view sql, const SqlRow& parameters) {
  const auto row = session.first_row(sql, parameters);
  if (!row) return row.failure();
  const auto* number = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  return number ? static_cast<int>(*number) : 0;
}

}  // namespace loadlight::store
