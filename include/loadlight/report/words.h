// The words catalogue of one language: every text a person reads, by key. A file in templates/words: one
// flat JSON object of strings, in which {name} is a gap that a detail fills and {{ }} are braces.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/failure.h"
#include "loadlight/core/result.h"

namespace loadlight::report {

class Words final {
 public:
  // WordsUnreadable (details: why, and key or byte) when the text is not UTF-8, not such an object, or names
  // a key twice.
  static core::Result<Words> parse(std::string_view json);

  bool has(std::string_view key) const;
  // The text of a key; the key between « and » when the catalogue lacks it.
  std::string text(std::string_view key) const;
  // The same with its gaps filled; a gap without a detail stays as it is written.
  std::string text(std::string_view key, const core::Details& details) const;
  std::vector<std::string> keys() const;  // sorted

 private:
  using Texts = std::map<std::string, std::string, std::less<>>;
  explicit Words(Texts texts) : texts_(std::move(texts)) {}
  Texts texts_;
};

}  // namespace loadlight::report
