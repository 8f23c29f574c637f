// What a ledger entry keeps of a change, as it may stand in a record that somebody altered.
//
// Promises: rows that are read have their table's columns and are written as a body that reads as the same rows; a
// number is not taken for another; no row holds what no column can keep.
#include <cmath>

#include <nlohmann/json.hpp>

#include "fuzz_input.h"
#include "store/row_json.h"

namespace loadlight::fuzz {
namespace {

using namespace store;
using nlohmann::ordered_json;

bool is_same(const std::vector<TableRow>& rows, const std::vector<TableRow>& others) {
  if (rows.size() != others.size()) return false;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].table != others[i].table || rows[i].row != others[i].row) return false;
  }
  return true;
}

// What the body itself says of a column.
void must_say(const ordered_json& said, const std::string& column, const SqlValue& value) {
  const auto found = said.find(column);
  if (found == said.end() || found->is_null()) {
    promise(std::holds_alternative<std::monostate>(value), "what is not said is NULL");
  } else if (const auto* integer = std::get_if<std::int64_t>(&value)) {
    promise(found->is_number_integer() && found->dump() == std::to_string(*integer), "a number is not taken for another");
  } else if (const auto* real = std::get_if<double>(&value)) {
    promise(found->is_number_float() && std::isfinite(*real), "a number is finite");
  } else {
    promise(found->is_string() && found->get<std::string>() == std::get<std::string>(value), "a text is what it was");
  }
}

void must_hold(std::string_view body, const std::vector<TableRow>& rows) {
  const auto said = ordered_json::parse(body);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& columns = rows[i].table->columns();
    promise(rows[i].row.size() == columns.size(), "a row has its table's columns");
    for (std::size_t c = 0; c < columns.size(); ++c) {
      must_say(said.at("records").at(i).at("row"), columns[c].name, rows[i].row[c]);
    }
  }
}

void write_again(const core::Details& details, const std::vector<TableRow>& rows) {
  const auto written = body_text(details, rows);
  if (!written) return;  // a text with a NUL: no column keeps it
  const auto again = rows_in_body(*written);
  promise(again && is_same(*again, rows), "rows are written as they were");
  const auto known = details_in_body(*written);
  promise(known.has_value(), "details are written as details");
  promise(body_text(*known, *again).value() == *written, "the same values are the same text");
  for (const TableRow& row : rows) promise(row_text(*row.table, row.row).has_value(), "a row that can be kept has a text");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view body = fuzz::Input{data, size}.rest();
  const auto rows = store::rows_in_body(body);
  const auto details = store::details_in_body(body);
  if (rows) fuzz::must_hold(body, *rows);
  if (rows) fuzz::write_again(details.value_or(core::Details{}), *rows);
  fuzz::promise(!store::is_text(body) || body.find('\0') == std::string_view::npos, "a text that is kept has no NUL");
  return 0;
}
