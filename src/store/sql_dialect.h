// How an engine wants its tables said, and the few statements that are not the same for all.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "table_shape.h"

namespace loadlight::store {

class SqlDialect {
 public:
  virtual ~SqlDialect() = default;

  // Makes the table and its indexes.
  virtual std::vector<std::string> create_statements(const TableShape& table) const = 0;
  // What can be said of it only when every table is there.
  virtual std::vector<std::string> reference_statements(const TableShape& table) const = 0;
  // After which rows of the table can be added but not changed.
  virtual std::vector<std::string> append_only_rules(const TableShape& table) const = 0;
  // Adds a row or puts it in the place of the one with its key. Parameters: its values, as the columns stand.
  virtual const std::string& upsert_sql(const TableShape& table) const = 0;
};

}  // namespace loadlight::store
