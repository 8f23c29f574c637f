// How each type that a record's member can have is kept in a column.
//
//   instants               milliseconds since 1970-01-01 UTC       days   YYYYMMDD as a number
//   terms of a vocabulary  their text                              flags  0 or 1
//   lists                  JSON: ["item", …], [["contents", count], …]
//   optionals              NULL when empty
//
// decode() is false, and may leave the member half changed, when the value is none that encode() makes.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/load.h"
#include "loadlight/core/names.h"
#include "loadlight/core/symbol.h"
#include "loadlight/core/vocabulary.h"
#include "sql_value.h"

namespace loadlight::store {

template <class M>
concept Term = requires {
  core::Vocabulary<M>::kTerms;
};

template <class M>
inline constexpr bool kIsOptional = false;
template <class M>
inline constexpr bool kIsOptional<std::optional<M>> = true;

SqlValue encode(const std::string& text);
SqlValue encode(bool flag);
SqlValue encode(int number);
SqlValue encode(std::int64_t number);
SqlValue encode(double number);
SqlValue encode(core::Instant instant);
SqlValue encode(core::CivilDate day);
SqlValue encode(const core::PackageId& id);
SqlValue encode(core::ErrorCorrection level);
SqlValue encode(const std::vector<std::string>& items);
SqlValue encode(const std::vector<core::LooseItems>& items);

bool decode(const SqlValue& value, std::string& text);
bool decode(const SqlValue& value, bool& flag);
bool decode(const SqlValue& value, int& number);
bool decode(const SqlValue& value, std::int64_t& number);
bool decode(const SqlValue& value, double& number);
bool decode(const SqlValue& value, core::Instant& instant);
bool decode(const SqlValue& value, core::CivilDate& day);
bool decode(const SqlValue& value, core::PackageId& id);
bool decode(const SqlValue& value, core::ErrorCorrection& level);
bool decode(const SqlValue& value, std::vector<std::string>& items);
bool decode(const SqlValue& value, std::vector<core::LooseItems>& items);

template <Term M>
SqlValue encode(M term) {
  return std::string{core::to_text(term)};
}

template <Term M>
bool decode(const SqlValue& value, M& term) {
  const auto* text = std::get_if<std::string>(&value);
  const auto parsed = text ? core::parse<M>(*text) : std::nullopt;
  if (parsed) term = *parsed;
  return parsed.has_value();
}

// NULL when empty.
template <class M>
SqlValue encode_optional(const std::optional<M>& value) {
  return value ? encode(*value) : SqlValue{};
}

template <class M>
constexpr ColumnType column_type() {
  if constexpr (kIsOptional<M>) {
    return column_type<typename M::value_type>();
  } else if constexpr (std::is_same_v<M, double>) {
    return ColumnType::Real;
  } else if constexpr (std::is_integral_v<M> || std::is_same_v<M, core::Instant> ||
                       std::is_same_v<M, core::CivilDate>) {
    return ColumnType::Integer;
  } else {
    return ColumnType::Text;
  }
}

// "column IN ('a', 'b')".
std::string one_of(std::string_view column, const std::vector<std::string_view>& texts);

// The condition that every value of this type fulfils, in SQL; empty when there is none.
template <class M>
std::string column_check(std::string_view column) {
  if constexpr (kIsOptional<M>) {
    return column_check<typename M::value_type>(column);
  } else if constexpr (Term<M>) {
    std::vector<std::string_view> texts;
    for (const auto& term : core::Vocabulary<M>::kTerms) texts.push_back(term.text);
    return one_of(column, texts);
  } else if constexpr (std::is_same_v<M, core::ErrorCorrection>) {
    return one_of(column, {"L", "M", "Q", "H"});
  } else if constexpr (std::is_same_v<M, bool>) {
    return std::string{column} + " IN (0, 1)";
  } else if constexpr (std::is_same_v<M, core::CivilDate>) {
    return std::string{column} + " BETWEEN 19000101 AND 99991231";
  } else {
    return {};
  }
}

}  // namespace loadlight::store
