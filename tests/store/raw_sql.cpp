#include "raw_sql.h"

#include <stdexcept>

namespace loadlight::store {
namespace {

int keep_row(void* rows, int count, char** values, char**) {
  auto& row = static_cast<std::vector<std::vector<std::string>>*>(rows)->emplace_back();
  for (int i = 0; i < count; ++i) row.emplace_back(values[i] ? values[i] : "NULL");
  return 0;
}

}  // namespace

RawSql::RawSql(const std::string& path) {
  if (sqlite3_open_v2(path.c_str(), &database_, SQLITE_OPEN_READWRITE, nullptr) != SQLITE_OK) {
    throw std::runtime_error(path);
  }
  run("PRAGMA synchronous = OFF; PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF");
}

RawSql::~RawSql() {
  sqlite3_close(database_);
}

void RawSql::run(const std::string& sql) {
  rows(sql);
}

std::vector<std::vector<std::string>> RawSql::rows(const std::string& sql) {
  std::vector<std::vector<std::string>> rows;
  if (sqlite3_exec(database_, sql.c_str(), keep_row, &rows, nullptr) != SQLITE_OK) {
    throw std::runtime_error(sql + ": " + sqlite3_errmsg(database_));
  }
  return rows;
}

}  // namespace loadlight::store
