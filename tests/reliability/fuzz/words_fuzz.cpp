// A catalogue of words, as somebody translated it, and its gaps filled. The catalogue, a line "---", then a line a
// detail.
//
// Promises: every key has its text, the same as the file says; filling gaps ends, and leaves those that nothing fills; a
// refusal says why.
#include <nlohmann/json.hpp>

#include "fuzz_input.h"
#include "loadlight/report/words.h"

namespace loadlight::fuzz {
namespace {

core::Details details_in(Input input) {
  core::Details details;
  while (!input.at_end() && details.size() < 8) {
    const std::string_view line = input.line();
    const auto equals = std::min(line.find('='), line.size());
    details.emplace_back(line.substr(0, equals), line.substr(std::min(equals + 1, line.size())));
  }
  return details;
}

void must_hold(const report::Words& words, std::string_view json, const core::Details& details) {
  const auto said = nlohmann::json::parse(json);
  const auto keys = words.keys();
  promise(keys.size() == said.size(), "there are as many texts as the file has");
  for (const std::string& key : keys) {
    promise(words.has(key) && said.at(key) == words.text(key), "a text is what the file says");
    const std::string text = words.text(key);
    const bool has_aside = text.find('[') != std::string::npos;  // which goes when its gap stays open
    promise(has_aside || words.text(key, {}) == text, "a gap without a detail stays as it is");
    (void)words.text(key, details);
    (void)words.text(core::Sentence{key, details});
  }
  promise(words.text("no such key") == "«no such key»" || words.has("no such key"), "a text that is missing is told");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view text = fuzz::Input{data, size}.rest();
  const auto cut = std::min(text.find("\n---\n"), text.size());
  const std::string_view json = text.substr(0, cut);
  const std::string_view rest = text.substr(std::min(cut + 5, text.size()));
  const auto words = report::Words::parse(json);
  if (words) {
    fuzz::must_hold(*words, json, fuzz::details_in({reinterpret_cast<const std::uint8_t*>(rest.data()), rest.size()}));
    return 0;
  }
  fuzz::promise(words.failure().code == core::FailureCode::WordsUnreadable, "a refusal is of the words");
  fuzz::promise(!words.failure().details.empty(), "a refusal says why");
  return 0;
}
