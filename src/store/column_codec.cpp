#include "column_codec.h"

#include <cstdio>
#include <limits>
#include <nlohmann/json.hpp>
#include <utility>

namespace loadlight::store {
namespace {

using nlohmann::json;

// The list in a column, or a discarded value when it is none.
json list_in(const SqlValue& value) {
  const auto* text = std::get_if<std::string>(&value);
  json list = text ? json::parse(*text, nullptr, false) : json{};
  return list.is_array() ? list : json{json::value_t::discarded};
}

// Text that is no UTF-8 passes here unharmed; writing it to the ledger refuses it (row_json.h).
std::string list_text(const json& list) {
  return list.dump(-1, ' ', false, json::error_handler_t::replace);
}

bool is_loose_items(const json& item) {
  return item.is_array() && item.size() == 2 && item[0].is_string() && item[1].is_number_integer();
}

// A list has one spelling. Another, or a number too large for its place, would read as what it does not say.
template <class Item>
bool take_list(const SqlValue& value, std::vector<Item> read, std::vector<Item>& items) {
  if (encode(read) != value) return false;
  items = std::move(read);
  return true;
}

}  // namespace

SqlValue encode(const std::string& text) {
  return text;
}
SqlValue encode(bool flag) {
  return std::int64_t{flag ? 1 : 0};
}
SqlValue encode(int number) {
  return std::int64_t{number};
}
SqlValue encode(std::int64_t number) {
  return number;
}
SqlValue encode(double number) {
  return number + 0.0;
}  // a database may lose the sign of -0.0
SqlValue encode(core::Instant instant) {
  return core::to_milliseconds(instant);
}
SqlValue encode(const core::PackageId& id) {
  return id.text();
}
SqlValue encode(core::ErrorCorrection level) {
  return std::string{core::to_text(level)};
}
SqlValue encode(const std::vector<std::string>& items) {
  return list_text(json(items));
}

SqlValue encode(core::CivilDate day) {
  const auto date = day.calendar();
  return std::int64_t{
      static_cast<int>(date.year()) * 10000 +
      static_cast<int>(static_cast<unsigned>(date.month()) * 100 + static_cast<unsigned>(date.day()))};
}

SqlValue encode(const std::vector<core::LooseItems>& items) {
  json list = json::array();
  for (const auto& item : items) list.push_back(json::array({item.contents, item.count}));
  return list_text(list);
}

bool decode(const SqlValue& value, std::string& text) {
  const auto* held = std::get_if<std::string>(&value);
  if (held) text = *held;
  return held != nullptr;
}

bool decode(const SqlValue& value, std::int64_t& number) {
  const auto* held = std::get_if<std::int64_t>(&value);
  if (held) number = *held;
  return held != nullptr;
}

bool decode(const SqlValue& value, int& number) {
  std::int64_t wide = 0;
  if (!decode(value, wide)) return false;
  number = static_cast<int>(wide);
  return number == wide;
}

bool decode(const SqlValue& value, bool& flag) {
  std::int64_t number = 0;
  if (!decode(value, number)) return false;
  flag = number == 1;
  return number == 0 || number == 1;
}

bool decode(const SqlValue& value, double& number) {
  const auto* held = std::get_if<double>(&value);
  if (held) number = *held;
  return held != nullptr;
}

bool decode(const SqlValue& value, core::Instant& instant) {
  std::int64_t milliseconds = 0;
  if (!decode(value, milliseconds)) return false;
  instant = core::instant_from(milliseconds);
  return true;
}

bool decode(const SqlValue& value, core::CivilDate& day) {
  int number = 0;
  if (!decode(value, number) || number < 0) return false;
  const auto found = core::CivilDate::from(number / 10000, static_cast<unsigned>(number / 100 % 100),
                                           static_cast<unsigned>(number % 100));
  if (found) day = *found;
  return found.has_value();
}

bool decode(const SqlValue& value, core::PackageId& id) {
  const auto* text = std::get_if<std::string>(&value);
  const auto parsed = text ? core::PackageId::parse_exact(*text) : std::nullopt;
  if (parsed) id = *parsed;
  return parsed.has_value();
}

bool decode(const SqlValue& value, core::ErrorCorrection& level) {
  const auto* text = std::get_if<std::string>(&value);
  const auto parsed = text ? core::parse_error_correction(*text) : std::nullopt;
  if (parsed) level = *parsed;
  return parsed.has_value();
}

bool decode(const SqlValue& value, std::vector<std::string>& items) {
  const json list = list_in(value);
  if (list.is_discarded()) return false;
  std::vector<std::string> read;
  for (const auto& item : list) {
    if (!item.is_string()) return false;
    read.push_back(item.get<std::string>());
  }
  return take_list(value, std::move(read), items);
}

bool decode(const SqlValue& value, std::vector<core::LooseItems>& items) {
  const json list = list_in(value);
  if (list.is_discarded()) return false;
  std::vector<core::LooseItems> read;
  for (const auto& item : list) {
    if (!is_loose_items(item)) return false;
    read.push_back({item[0].get<std::string>(), item[1].get<int>()});
  }
  return take_list(value, std::move(read), items);
}

std::string one_of(std::string_view column, const std::vector<std::string_view>& texts) {
  std::string sql = std::string{column} + " IN (";
  const char* separator = "'";
  for (const std::string_view text : texts) {
    sql.append(separator).append(text).append("'");
    separator = ", '";
  }
  return sql + ")";
}

}  // namespace loadlight::store
