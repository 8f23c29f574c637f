// A record's table: what a row of it is as a record, and a record as a row.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "column.h"
#include "loadlight/core/result.h"
#include "sql_session.h"
#include "table_shape.h"

namespace loadlight::store {

template <class T>
class RecordTable final {
 public:
  RecordTable(std::string name, std::string noun, std::vector<Column<T>> columns,
              std::vector<TableConstraint> constraints = {}, std::vector<TableIndex> indexes = {})
      : columns_(std::move(columns)),
        shape_(std::move(name), std::move(noun), shapes(columns_), std::move(constraints),
               std::move(indexes)) {}

  const TableShape& shape() const { return shape_; }

  SqlRow row_of(const T& record) const {
    SqlRow row;
    row.reserve(columns_.size());
    for (const auto& column : columns_) row.push_back(column.read(record));
    return row;
  }

  // RecordDamaged when a value is none that a record can have.
  core::Result<T> record_of(const SqlSession& session, const SqlRow& row) const {
    T record = blank<T>();
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      if (columns_[i].write(record, row[i])) continue;
      return session.damaged(shape_.row_name(row) + ": " + columns_[i].shape.name);
    }
    return record;
  }

  core::Result<std::vector<T>> records_of(const SqlSession& session, const std::vector<SqlRow>& rows) const {
    std::vector<T> records;
    records.reserve(rows.size());
    for (const SqlRow& row : rows) {
      auto record = record_of(session, row);
      if (!record) return record.failure();
      records.push_back(std::move(*record));
    }
    return records;
  }

  // `tail` follows "SELECT … FROM table ".
  core::Result<std::vector<T>> select(SqlSession& session, std::string_view tail,
                                      const SqlRow& parameters) const {
    const auto rows = session.rows(select_sql(tail), parameters);
    if (!rows) return rows.failure();
    return records_of(session, *rows);
  }

  core::Result<std::optional<T>> select_first(SqlSession& session, std::string_view tail,
                                              const SqlRow& parameters) const {
    const auto row = session.first_row(select_sql(tail), parameters);
    if (!row) return row.failure();
    if (!*row) return std::optional<T>{};
    auto record = record_of(session, **row);
    if (!record) return record.failure();
    return std::optional<T>{std::move(*record)};
  }

 private:
  std::string select_sql(std::string_view tail) const {
    return std::string{shape_.select_sql()}.append(" ").append(tail);
  }
  static std::vector<ColumnShape> shapes(const std::vector<Column<T>>& columns) {
    std::vector<ColumnShape> shapes;
    for (const auto& column : columns) shapes.push_back(column.shape);
    return shapes;
  }

  std::vector<Column<T>> columns_;
  TableShape shape_;
};

// For tables with load_sterilizer and load_number.
inline TableConstraint load_reference() {
  return {ConstraintKind::Refers, "load_sterilizer, load_number", "loads"};
}

// The one number that a query of a highest number yields; 0 when there is none.
core::Result<int> highest(SqlSession& session, std::string_view sql, const SqlRow& parameters = {});

// The table of each record, defined in the file that names the record.
template <class T>
const RecordTable<T>& table_of();

}  // namespace loadlight::store
