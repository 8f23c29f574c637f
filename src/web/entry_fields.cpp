#include "web/entry_fields.h"

#include <algorithm>

namespace loadlight::web {
namespace {

using app::Column;
using app::Row;

std::string cell_of(const Row& row, std::string_view column) {
  const auto cell = std::find_if(row.begin(), row.end(), [&](const auto& pair) { return pair.first == column; });
  return cell == row.end() ? std::string{} : cell->second;
}

View options_of(const Visit& visit, const Column& column, const std::string& chosen) {
  View options = View::array();
  for (const std::string_view term : column.terms) {
    const std::string value{term};
    options.push_back({{"value", value},
                       {"text", value_text(visit, std::string{column.name}, value)},
                       {"selected", value == chosen}});
  }
  return options;
}

std::string trimmed(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return std::string{text};
}

}  // namespace

std::string column_text(const Visit& visit, std::string_view column) {
  return visit.word("column." + std::string{column});
}

std::string value_text(const Visit& visit, const std::string& column, const std::string& value) {
  const std::string key = "term." + column + "." + value;
  if (visit.language.words.has(key)) return visit.word(key);
  const std::string plain = "term." + value;
  return visit.language.words.has(plain) ? visit.word(plain) : value;
}

View entry_fields(const Visit& visit, app::OfficeTable table, const std::string& prefix, const Row& row) {
  View fields = View::array();
  for (const Column& column : app::text_of(table).columns) {
    const std::string name{column.name};
    const std::string value = cell_of(row, name);
    View field{{"name", prefix + name},
               {"label", column_text(visit, name)},
               {"hint", name == "name" ? std::string{} : visit.word("help.column." + name)},
               {"required", column.required},
               {"value", value}};
    if (column.yes_or_no) {
      field["tick"] = true;
      field["ticked"] = value == "yes";
    } else if (!column.terms.empty()) {
      field["choice"] = true;
      field["options"] = options_of(visit, column, value);
    } else {
      field["day"] = column.day;
      field["text"] = !column.day;
      field["capitals"] = name == "code" || name == "sterilizer";
    }
    fields.push_back(std::move(field));
  }
  return fields;
}

Row entry_of(const Visit& visit, app::OfficeTable table, const std::string& prefix) {
  Row row;
  for (const Column& column : app::text_of(table).columns) {
    std::string value = trimmed(visit.field(prefix + std::string{column.name}));
    if (column.yes_or_no && value.empty()) value = "no";
    row.emplace_back(column.name, std::move(value));
  }
  return row;
}

}  // namespace loadlight::web
