// The words catalogue of one language: every text a person reads, by key. A file in templates/words: one
// flat JSON object of strings.
//
//   text = *( character / "{" name "}" )      name = letters, digits, "_", "-": a gap that a detail fills
//
// Any other brace is a brace. A detail whose value the catalogue words itself, under the key
// "detail.<name>.<value>", is given in those words: {why} with the value "absent" reads "detail.why.absent".
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
  // WordsUnreadable (detail why: malformed, not-texts or key-twice; detail place: the key or the byte, from
  // 1) when the text is not UTF-8, not such an object, or names a key twice.
  static core::Result<Words> parse(std::string_view json);

  bool has(std::string_view key) const;
  // The text of a key; the key between « and » when the catalogue lacks it.
  std::string text(std::string_view key) const;
  // The same with its gaps filled; a gap without a detail stays as it is written.
  std::string text(std::string_view key, const core::Details& details) const;
  std::string text(const core::Sentence& sentence) const;
  std::vector<std::string> keys() const;  // sorted

 private:
  using Texts = std::map<std::string, std::string, std::less<>>;
  bool fills(std::string_view pattern, const core::Details& details) const;
  std::string filled(std::string_view pattern, const core::Details& details) const;
  explicit Words(Texts texts) : texts_(std::move(texts)) {}
  std::string worded(std::string_view name, const core::Details& details) const;
  Texts texts_;
};

}  // namespace loadlight::report
