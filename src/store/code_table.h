// Queries of the tables whose key is a code.
#pragma once

#include "loadlight/port/store.h"
#include "record_table.h"
#include "schema.h"

namespace loadlight::store {

template <class T>
class CodeTable final : public port::Table<T> {
 public:
  explicit CodeTable(SqlSession& session) : session_(session) {}

  core::Result<std::optional<T>> find(std::string_view code) const override {
    return table_of<T>().select_first(session_, "WHERE " + key() + " = $1", {std::string{code}});
  }
  core::Result<std::vector<T>> all() const override {
    return table_of<T>().select(session_, "ORDER BY " + key(), {});
  }

 private:
  // Their first column: a code, a lot, a name.
  static std::string key() { return table_of<T>().shape().columns().front().name; }

  SqlSession& session_;
};

}  // namespace loadlight::store
