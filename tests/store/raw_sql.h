// SQLite without any of our layers: how a thief would reach into the record.
#pragma once

#include <sqlite3.h>

#include <string>
#include <vector>

namespace loadlight::store {

// Heeds no check and no foreign key, and waits for no disk. A wrong statement throws std::runtime_error.
class RawSql final {
 public:
  explicit RawSql(const std::string& path);
  ~RawSql();
  RawSql(const RawSql&) = delete;
  RawSql& operator=(const RawSql&) = delete;

  void run(const std::string& sql);
  // Every value as text, row by row; NULL as "NULL".
  std::vector<std::vector<std::string>> rows(const std::string& sql);
  std::string value(const std::string& sql) { return rows(sql).at(0).at(0); }

 private:
  sqlite3* database_ = nullptr;
};

}  // namespace loadlight::store
