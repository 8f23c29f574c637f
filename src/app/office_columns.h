// The columns of each office table, as functions between texts and entries.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/act.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::app {

// What is wrong with a row: words "row-problem.<code>", with the column and what was given.
struct RowProblem final {
  std::string_view code;
  std::string_view column;
  std::string given;
};

template <class Entry>
struct EntryColumn final {
  Column column;
  bool (*set)(Entry&, std::string_view);
  std::string (*get)(const Entry&);
};

// The entry a row describes, or its problems. Columns that are absent or empty keep their default.
template <class Entry>
Entry parse_row(const Row& row, core::CivilDate today, std::vector<RowProblem>& problems);

template <class Entry>
Row to_row(const Entry& entry);

}  // namespace loadlight::app
