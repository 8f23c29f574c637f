// A sentence of the words catalogue as one string, for Failure::items: a key and the details that fill
// its gaps, so that nobody but the catalogue words it.
//
//   sentence = key *( US name US value )      US = the control character U+001F, never part of the others
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include "loadlight/core/failure.h"

namespace loadlight::core {

inline constexpr char kSentenceSeparator = '\x1f';

struct Sentence final {
  std::string key;
  Details details;
};

inline std::string sentence(std::string_view key, const Details& details) {
  std::string out{key};
  for (const auto& [name, value] : details) {
    out += kSentenceSeparator + name + kSentenceSeparator;
    for (char c : value) out += c == kSentenceSeparator ? ' ' : c;
  }
  return out;
}

// Plain data (no separator) is nothing: it is shown as it stands.
inline std::optional<Sentence> parse_sentence(std::string_view item) {
  const auto cut = [&item] {
    const auto part = item.substr(0, item.find(kSentenceSeparator));
    item.remove_prefix(std::min(item.size(), part.size() + 1));
    return std::string{part};
  };
  if (item.find(kSentenceSeparator) == std::string_view::npos) return std::nullopt;
  Sentence read{cut(), {}};
  while (!item.empty()) {
    std::string name = cut();
    read.details.emplace_back(std::move(name), cut());
  }
  return read;
}

}  // namespace loadlight::core
