#include "loadlight/exchange/csv.h"
#include "web/entry_fields.h"
#include "web/office_table.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using app::OfficeTable;
using app::Row;
using core::FailureCode;

Response unknown(const Visit& visit) {
  return visit.failed({FailureCode::PageUnknown, {}, {}});
}

View row_view(const Visit& visit, OfficeTable table, const Row& row) {
  View cells = View::array();
  for (std::size_t i = 1; i < row.size(); ++i) cells.push_back(value_text(visit, row[i].first, row[i].second));
  return {{"code", code_of(row)},
          {"link", path_of(table, code_of(row))},
          {"cells", cells},
          {"retired", is_retired(row)}};
}

// An empty table still has its headings: those of the columns that are entered.
View headings_of(const Visit& visit, OfficeTable table, const std::vector<Row>& rows) {
  View headings = View::array();
  if (!rows.empty()) {
    for (const auto& [column, value] : rows.front()) headings.push_back(column_text(visit, column));
  } else {
    for (const app::Column& column : app::text_of(table).columns) headings.push_back(column_text(visit, column.name));
  }
  return headings;
}

std::string csv_of(OfficeTable table, const std::vector<Row>& rows) {
  exchange::CsvRow header;
  for (const app::Column& column : app::text_of(table).columns) header.add(column.name);
  std::string csv = header.line();
  for (const Row& row : rows) {
    exchange::CsvRow line;
    for (const app::Column& column : app::text_of(table).columns) line.add(cell_of(row, column.name));
    csv += line.line();
  }
  return csv;
}

}  // namespace

Response table_page(Visit& visit) {
  const auto table = table_named(visit.parameter("table"));
  if (!table) return unknown(visit);
  const auto rows = rows_of(visit, *table);
  if (!rows) return visit.failed(rows.failure());
  View list = View::array();
  for (const Row& row : *rows) list.push_back(row_view(visit, *table, row));
  const std::string path = path_of(*table);
  const std::string name{app::text_of(*table).name};
  return visit.page("pages/table", {{"title", visit.word("page.set-up." + name)},
                                    {"at", "/set-up"},
                                    {"advice", visit.word("page.table." + name)},
                                    {"headings", headings_of(visit, *table, *rows)},
                                    {"rows", list},
                                    {"none", rows->empty()},
                                    {"fields", entry_fields(visit, *table, "", {})},
                                    {"add", visit.form_for(path + "/add")},
                                    {"export", path + "/export"},
                                    {"import", path + "/import"},
                                    {"import_token", visit.desk.seal().token(visit.cookie, path + "/import")}});
}

Response add_entry(Visit& visit) {
  const auto table = table_named(visit.parameter("table"));
  if (!table) return unknown(visit);
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto added =
      app::add_entries((*office)->ports, visit.operator_code(), *table, {entry_of(visit, *table, "")});
  if (!added) return visit.failed(added.failure());
  return visit.go_to(path_of(*table), "entry-added", {{"code", code_of(added->front())}});
}

Response import_table(Visit& visit) {
  const auto table = table_named(visit.parameter("table"));
  if (!table) return unknown(visit);
  if (visit.request.body.size() > exchange::kLargestTable) {
    return visit.failed({FailureCode::BodyTooLarge, {{"limit", "16 MB"}}, {}});
  }
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto added =
      app::import_entries((*office)->ports, visit.operator_code(), *table, visit.request.body);
  if (!added) return visit.failed(added.failure());
  return visit.go_to(path_of(*table), "entries-added", {{"count", std::to_string(added->size())}});
}

Response export_table(Visit& visit) {
  const auto table = table_named(visit.parameter("table"));
  if (!table) return unknown(visit);
  const auto rows = rows_of(visit, *table);
  if (!rows) return visit.failed(rows.failure());
  Response response = visit.file(csv_of(*table, *rows), "text/csv; charset=utf-8");
  const std::string name{app::text_of(*table).name};
  response.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + name + ".csv\"");
  return response;
}

}  // namespace loadlight::web
