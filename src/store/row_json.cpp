#include "row_json.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <nlohmann/json.hpp>

#include "schema.h"

namespace loadlight::store {
namespace {

using json = nlohmann::ordered_json;

json json_of(const SqlValue& value) {
  if (const auto* integer = std::get_if<std::int64_t>(&value)) return *integer;
  if (const auto* real = std::get_if<double>(&value)) return *real;
  if (const auto* text = std::get_if<std::string>(&value)) return *text;
  return nullptr;
}

json json_of(const TableShape& table, const SqlRow& row) {
  json object = json::object();
  for (std::size_t i = 0; i < row.size(); ++i) object[table.columns()[i].name] = json_of(row[i]);
  return object;
}

json json_of(const core::Details& details) {
  json object = json::object();
  for (const auto& [key, value] : details) {
    if (!object.contains(key)) {
      object[key] = value;
    } else if (object[key].is_array()) {
      object[key].push_back(value);
    } else {
      object[key] = json::array({object[key], value});
    }
  }
  return object;
}

// The first value that cannot be kept, as a failure.
std::optional<core::Failure> unkeepable(const TableRow& table_row) {
  for (std::size_t i = 0; i < table_row.row.size(); ++i) {
    const std::string& column = table_row.table->columns()[i].name;
    const auto* text = std::get_if<std::string>(&table_row.row[i]);
    if (text && !is_text(*text)) return core::Failure{core::FailureCode::BadEncoding, {{"what", column}}, {}};
    const auto* real = std::get_if<double>(&table_row.row[i]);
    if (real && !std::isfinite(*real))
      return core::Failure{core::FailureCode::BadValue, {{"what", column}}, {}};
  }
  return std::nullopt;
}

std::optional<core::Failure> unkeepable(const core::Details& details) {
  for (const auto& [key, value] : details) {
    if (!is_text(key) || !is_text(value)) {
      return core::Failure{core::FailureCode::BadEncoding, {{"what", is_text(key) ? key : "details"}}, {}};
    }
  }
  return std::nullopt;
}

std::optional<SqlValue> value_of(const json& value) {
  constexpr std::uint64_t kLargest = std::numeric_limits<std::int64_t>::max();
  if (value.is_null()) return SqlValue{};
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > kLargest) return std::nullopt;
  if (value.is_number_integer()) return SqlValue{value.get<std::int64_t>()};
  if (value.is_number_float()) return SqlValue{value.get<double>()};
  if (value.is_string()) return SqlValue{value.get<std::string>()};
  return std::nullopt;
}

// The next member when the object stands in the order of the columns, as ours do; else wherever it is.
json::const_iterator member(const json& object, json::const_iterator next, const std::string& name) {
  return next != object.end() && next.key() == name ? next : object.find(name);
}

std::optional<SqlRow> row_of(const TableShape& table, const json& object) {
  SqlRow row;
  std::size_t named = 0;
  auto next = object.begin();
  for (const ColumnShape& column : table.columns()) {
    const auto found = member(object, next, column.name);
    auto value = found == object.end() ? std::optional{SqlValue{}} : value_of(*found);
    if (!value) return std::nullopt;
    row.push_back(std::move(*value));
    if (found == object.end()) continue;
    next = std::next(found);
    ++named;
  }
  if (named != object.size()) return std::nullopt;  // a column that this program does not know
  return row;
}

std::optional<TableRow> table_row_of(const json& record) {
  if (!record.is_object() || !record.contains("table") || !record.contains("row")) return std::nullopt;
  const json& name = record["table"];
  const TableShape* table = name.is_string() ? record_table(name.get_ref<const std::string&>()) : nullptr;
  if (table == nullptr || !record["row"].is_object()) return std::nullopt;
  auto row = row_of(*table, record["row"]);
  if (!row) return std::nullopt;
  return TableRow{table, std::move(*row)};
}

}  // namespace

// Row by row: a sheet's packages need not all stand in memory as a tree.
core::Result<std::string> body_text(const core::Details& details, const std::vector<TableRow>& rows) {
  if (const auto failure = unkeepable(details)) return *failure;
  std::string body = R"({"details":)" + json_of(details).dump() + R"(,"records":[)";
  const char* separator = "";
  for (const TableRow& one : rows) {
    if (const auto failure = unkeepable(one)) return *failure;
    const std::string row = json_of(*one.table, one.row).dump();
    body.append(separator)
        .append(R"({"table":")" + one.table->name() + R"(","row":)")
        .append(row)
        .append("}");
    separator = ",";
  }
  return body + "]}";
}

std::optional<std::vector<TableRow>> rows_in_body(std::string_view body) {
  const json parsed = json::parse(body, nullptr, false);
  if (!parsed.is_object() || !parsed.contains("records") || !parsed["records"].is_array())
    return std::nullopt;
  std::vector<TableRow> rows;
  for (const json& record : parsed["records"]) {
    auto row = table_row_of(record);
    if (!row) return std::nullopt;
    rows.push_back(std::move(*row));
  }
  return rows;
}

std::optional<core::Details> details_in_body(std::string_view body) {
  const json parsed = json::parse(body, nullptr, false);
  if (!parsed.is_object() || !parsed.contains("details") || !parsed["details"].is_object())
    return std::nullopt;
  core::Details details;
  for (const auto& [key, value] : parsed["details"].items()) {
    const json values = value.is_array() ? value : json::array({value});
    for (const json& one : values) {
      if (!one.is_string()) return std::nullopt;
      details.emplace_back(key, one.get<std::string>());
    }
  }
  return details;
}

std::optional<std::string> row_text(const TableShape& table, const SqlRow& row) {
  if (row.size() != table.columns().size() || unkeepable(TableRow{&table, row})) return std::nullopt;
  return json_of(table, row).dump();
}

bool is_text(std::string_view text) {
  if (text.find('\0') != std::string_view::npos) return false;
  if (std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; }))
    return true;
  try {
    return !json(text).dump().empty();
  } catch (const json::exception&) {
    return false;
  }
}

}  // namespace loadlight::store
