#include "sql_session.h"

namespace loadlight::store {

core::Result<void> SqlSession::run(std::string_view sql, const SqlRow& parameters) {
  const auto done = rows(sql, parameters);
  if (!done) return done.failure();
  return {};
}

}  // namespace loadlight::store
