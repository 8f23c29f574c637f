// One table per enumeration: its values and their stable text codes. The texts stand in the record, in
// CSV files and in JSON; do not change one that has been released.
//
// A term is written once, in the Vocabulary of its enumeration; to_text() and parse<E>() derive from it.
#pragma once

#include <optional>
#include <string_view>

namespace loadlight::core {

template <class E>
struct Term final {
  E value;
  std::string_view text;
};

// Specialised beside each enumeration with: static constexpr Term<E> kTerms[] = {...};
template <class E>
struct Vocabulary;

template <class E>
  requires requires { Vocabulary<E>::kTerms; }
constexpr std::string_view to_text(E value) {
  for (const auto& term : Vocabulary<E>::kTerms) {
    if (term.value == value) return term.text;
  }
  return "";
}

template <class E>
constexpr std::optional<E> parse(std::string_view text) {
  for (const auto& term : Vocabulary<E>::kTerms) {
    if (term.text == text) return term.value;
  }
  return std::nullopt;
}

}  // namespace loadlight::core
