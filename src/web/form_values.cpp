#include "web/form_values.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

template <class Number>
std::optional<Number> number_in(std::string_view text) {
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

// As `of` reads it, unless the field was left empty.
template <class T>
Result<std::optional<T>> if_any(const Visit& visit, std::string_view field,
                                Result<T> (*of)(const Visit&, std::string_view)) {
  if (text_of(visit, field).empty()) return std::optional<T>{};
  const auto value = of(visit, field);
  if (!value) return value.failure();
  return std::optional<T>{*value};
}

}  // namespace

Failure bad_field(std::string_view field, std::string_view given, std::string_view known) {
  Failure failure{FailureCode::BadValue,
                  {{"field", std::string{field}}, {"given", std::string{given.substr(0, 200)}}},
                  {}};
  if (!known.empty()) failure.details.emplace_back("known", known);
  return failure;
}

std::string text_of(const Visit& visit, std::string_view field) {
  constexpr std::string_view kBlank = " \t\r\n";
  const std::string_view given = visit.field(field);
  const auto first = std::min(given.find_first_not_of(kBlank), given.size());
  return std::string{given.substr(first, given.find_last_not_of(kBlank) + 1 - first)};
}

std::optional<int> whole_in(std::string_view text) {
  return number_in<int>(text);
}

Result<double> number_of(const Visit& visit, std::string_view field) {
  const std::string given = text_of(visit, field);
  std::string text = given;
  std::replace(text.begin(), text.end(), ',', '.');
  const auto value = number_in<double>(text);
  if (!value || !std::isfinite(*value)) return bad_field(field, given);
  return *value;
}

Result<int> whole_of(const Visit& visit, std::string_view field) {
  const std::string given = text_of(visit, field);
  const auto value = whole_in(given);
  if (!value) return bad_field(field, given);
  return *value;
}

Result<core::CivilDate> date_of(const Visit& visit, std::string_view field) {
  const std::string given = text_of(visit, field);
  const auto date = core::CivilDate::parse_iso(given);
  if (date) return *date;
  return Failure{FailureCode::BadDate, {{"field", std::string{field}}, {"given", given.substr(0, 80)}}, {}};
}

Result<std::optional<double>> number_if_any(const Visit& visit, std::string_view field) {
  return if_any<double>(visit, field, number_of);
}

Result<std::optional<int>> whole_if_any(const Visit& visit, std::string_view field) {
  return if_any<int>(visit, field, whole_of);
}

Result<std::optional<core::CivilDate>> date_if_any(const Visit& visit, std::string_view field) {
  return if_any<core::CivilDate>(visit, field, date_of);
}

Result<core::LoadName> load_of(const Visit& visit) {
  const std::string_view given = visit.parameter("load");
  if (const auto name = core::LoadName::parse(given)) return *name;
  return Failure{FailureCode::BadLoadName, {{"given", std::string{given.substr(0, 80)}}}, {}};
}

}  // namespace loadlight::web
