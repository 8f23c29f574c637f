// Every record of a table in the order of its key, in batches: memory stays bounded, and no statement is
// under way while a record is visited.
#pragma once

#include "loadlight/core/result.h"
#include "record_table.h"
#include "sql_session.h"
#include "table_shape.h"

namespace loadlight::store {

// `visit` takes a row and says whether to go on: Result<bool>. Stops at the first failure.
template <class Visit>
core::Result<void> each_row(SqlSession& session, const TableShape& shape, Visit visit) {
  auto batch = session.rows(shape.first_batch_sql());
  while (batch) {
    for (const SqlRow& row : *batch) {
      const core::Result<bool> goes_on = visit(row);
      if (!goes_on) return goes_on.failure();
      if (!*goes_on) return {};
    }
    if (batch->size() < TableShape::kBatch) return {};
    batch = session.rows(shape.next_batch_sql(), shape.key_of(batch->back()));
  }
  return batch.failure();
}

// `visit` takes a record and says whether to go on: bool.
template <class T, class Visit>
core::Result<void> each_record(SqlSession& session, Visit visit) {
  const auto& table = table_of<T>();
  return each_row(session, table.shape(), [&](const SqlRow& row) -> core::Result<bool> {
    const auto record = table.record_of(session, row);
    if (!record) return record.failure();
    return visit(*record);
  });
}

}  // namespace loadlight::store
