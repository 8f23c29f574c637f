#include "web/office_table.h"

#include <algorithm>

namespace loadlight::web {

using app::OfficeTable;
using app::Row;

std::optional<OfficeTable> table_named(std::string_view name) {
  for (const OfficeTable table : kTables) {
    if (app::text_of(table).name == name) return table;
  }
  return std::nullopt;
}

std::string path_of(OfficeTable table) {
  return "/set-up/tables/" + std::string{app::text_of(table).name};
}

std::string path_of(OfficeTable table, std::string_view code) {
  return path_of(table) + "/entry?code=" + url_escaped(code);
}

const std::string& code_of(const Row& row) {
  return row.front().second;
}

std::string cell_of(const Row& row, std::string_view column) {
  const auto cell = std::find_if(row.begin(), row.end(), [&](const auto& pair) { return pair.first == column; });
  return cell == row.end() ? std::string{} : cell->second;
}

bool is_retired(const Row& row) {
  return !cell_of(row, "retired_on").empty() || !cell_of(row, "last_day").empty();
}

core::Result<std::vector<Row>> rows_of(Visit& visit, OfficeTable table) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  return app::list_entries((*office)->ports, table);
}

}  // namespace loadlight::web
