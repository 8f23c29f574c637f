// A record in SQLite with rows in every table, for tests that alter or break copies of it.
#pragma once

#include <string>
#include <vector>

#include "loadlight/port/store.h"
#include "temporary_folder.h"

namespace loadlight::store {

// Every column of every table holds something but NULL in at least one row.
void fill(port::Store& store);

// Made once for each object, closed, and only ever copied.
class FullOffice final {
 public:
  FullOffice();

  const std::string& path() const { return folder_.path(); }
  std::string record() const { return folder_.record(); }
  // What verification finds in a copy on which this SQL was run, without the ledger's rules against it.
  std::vector<port::Alteration> after(const std::string& sql) const;

 private:
  TemporaryFolder folder_;
};

std::string text(const std::vector<port::Alteration>& alterations);  // "where what, where what"

}  // namespace loadlight::store
