// A table as the engine sees it: columns, keys and indexes, and the SQL that follows from them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sql_value.h"

namespace loadlight::store {

// The column that tells offices apart where many share a database.
inline constexpr std::string_view kOfficeColumn = "office_no";

// The key of a table of one row, whose value is always 1.
inline constexpr std::string_view kOnlyRow = "only_row";

struct ColumnShape final {
  std::string name;
  ColumnType type = ColumnType::Text;
  bool nullable = false;
  std::string check;   // a condition every value fulfils; empty: none
  std::string refers;  // the table whose only key column this names; empty: none
  bool key = false;    // part of the primary key, in the order of the columns
};

struct TableIndex final {
  std::string name;
  std::string columns;
};

enum class ConstraintKind { Check, Unique, Refers };

// Over several columns.
struct TableConstraint final {
  ConstraintKind kind = ConstraintKind::Check;
  std::string columns;  // of Check: the condition that every row fulfils
  std::string table{};  // of Refers: whose key the columns name
};

class TableShape final {
 public:
  // `noun` is what a person calls one row of it.
  TableShape(std::string name, std::string noun, std::vector<ColumnShape> columns,
             std::vector<TableConstraint> constraints, std::vector<TableIndex> indexes);

  const std::string& name() const { return name_; }
  const std::vector<ColumnShape>& columns() const { return columns_; }
  const std::vector<TableConstraint>& constraints() const { return constraints_; }
  const std::vector<TableIndex>& indexes() const { return indexes_; }
  std::string key_names() const;  // "load_sterilizer, load_number"

  // "package 8Q4T0ZK3MW", "load S1-4", "office".
  std::string row_name(const SqlRow& row) const;
  // The key's values, for the parameters of next_batch_sql().
  SqlRow key_of(const SqlRow& row) const;

  // Parameters are a row's values, in the order of the columns.
  const std::string& insert_sql() const { return insert_; }
  const std::string& upsert_sql() const { return upsert_; }
  // The same where the tables of many offices are one, and an office's number is part of every key.
  const std::string& upsert_in_group_sql() const { return upsert_in_group_; }
  // "SELECT every column FROM table": what to add is up to the query.
  const std::string& select_sql() const { return select_; }
  // All rows by key, kBatch at a time: the first ones, and those after a key.
  static constexpr std::size_t kBatch = 500;
  const std::string& first_batch_sql() const { return first_batch_; }
  const std::string& next_batch_sql() const { return next_batch_; }

 private:
  std::string name_;
  std::string noun_;
  std::vector<ColumnShape> columns_;
  std::vector<TableConstraint> constraints_;
  std::vector<TableIndex> indexes_;
  std::vector<std::size_t> keys_;
  std::string insert_, upsert_, upsert_in_group_, select_, first_batch_, next_batch_;
};

}  // namespace loadlight::store
