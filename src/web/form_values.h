// The values of a form's fields, as people type them: blanks around them count for nothing, and a number may
// have a decimal comma. BadValue, BadDate and BadLoadName name the field.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"
#include "loadlight/core/result.h"
#include "loadlight/core/vocabulary.h"
#include "web/visit.h"

namespace loadlight::web {

core::Failure bad_field(std::string_view field, std::string_view given, std::string_view known = {});

std::string text_of(const Visit& visit, std::string_view field);
std::optional<int> whole_in(std::string_view text);
core::Result<double> number_of(const Visit& visit, std::string_view field);
core::Result<int> whole_of(const Visit& visit, std::string_view field);
core::Result<core::CivilDate> date_of(const Visit& visit, std::string_view field);
// Nothing for a field that was left empty.
core::Result<std::optional<double>> number_if_any(const Visit& visit, std::string_view field);
core::Result<std::optional<int>> whole_if_any(const Visit& visit, std::string_view field);
core::Result<std::optional<core::CivilDate>> date_if_any(const Visit& visit, std::string_view field);
// Of the route: {load}.
core::Result<core::LoadName> load_of(const Visit& visit);

template <class E>
core::Result<E> term_of(const Visit& visit, std::string_view field) {
  const std::string given = text_of(visit, field);
  if (const auto value = core::parse<E>(given)) return *value;
  std::string known;
  for (const auto& term : core::Vocabulary<E>::kTerms) {
    known += (known.empty() ? "" : ", ") + std::string{term.text};
  }
  return bad_field(field, given, known);
}

}  // namespace loadlight::web
