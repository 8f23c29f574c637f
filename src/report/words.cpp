#include "loadlight/report/words.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

namespace loadlight::report {
namespace {

using nlohmann::json;

core::Failure unreadable(std::string why, std::string place) {
  return {core::FailureCode::WordsUnreadable, {{"why", std::move(why)}, {"place", std::move(place)}}, {}};
}

// Gathers the flat object as it is read, so that a key named twice is seen. Stops at the first failure.
class Gatherer final : public json::json_sax_t {
 public:
  std::map<std::string, std::string, std::less<>> texts;
  std::optional<core::Failure> failure;

  bool null() override { return other(); }
  bool boolean(bool) override { return other(); }
  bool number_integer(number_integer_t) override { return other(); }
  bool number_unsigned(number_unsigned_t) override { return other(); }
  bool number_float(number_float_t, const string_t&) override { return other(); }
  bool binary(binary_t&) override { return other(); }
  bool start_array(std::size_t) override { return other(); }
  bool end_array() override { return other(); }
  bool start_object(std::size_t) override { return ++depth_ == 1 || other(); }
  bool end_object() override { return true; }

  bool key(string_t& name) override {
    key_ = name;
    return !texts.contains(name) || stop(unreadable("key-twice", key_));
  }
  bool string(string_t& text) override {
    if (depth_ != 1) return other();
    texts.emplace(key_, std::move(text));
    return true;
  }
  bool parse_error(std::size_t byte, const std::string&, const json::exception&) override {
    return stop(unreadable("malformed", std::to_string(byte)));
  }

 private:
  bool other() { return stop(unreadable("not-texts", key_)); }
  bool stop(core::Failure why) {
    failure = std::move(why);
    return false;
  }

  int depth_ = 0;
  std::string key_;
};

bool is_name_character(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

// The name of the gap that `text` begins with; empty when it begins with no gap.
std::string_view gap_at(std::string_view text) {
  if (text.empty() || text.front() != '{') return {};
  const auto end = std::find_if_not(text.begin() + 1, text.end(), is_name_character);
  const auto length = static_cast<std::size_t>(end - text.begin());
  return end != text.end() && *end == '}' ? text.substr(1, length - 1) : std::string_view{};
}

// The aside that `text` begins with, without its brackets; empty when it begins with none.
std::string_view aside_at(std::string_view text) {
  const auto end = text.find(']');
  if (text.empty() || text.front() != '[' || end == std::string_view::npos) return {};
  return text.substr(1, end - 1);
}

}  // namespace

core::Result<Words> Words::parse(std::string_view text) {
  Gatherer gathered;
  try {
    json::sax_parse(text, &gathered);
  } catch (const std::exception&) {
    return unreadable("malformed", "");
  }
  if (gathered.failure) return *gathered.failure;
  return Words{std::move(gathered.texts)};
}

bool Words::has(std::string_view key) const {
  return texts_.contains(key);
}

std::string Words::text(std::string_view key) const {
  const auto found = texts_.find(key);
  return found != texts_.end() ? found->second : "«" + std::string{key} + "»";
}

std::string Words::text(std::string_view key, const core::Details& details) const {
  const std::string pattern = text(key);
  std::string out;
  for (std::string_view rest = pattern; !rest.empty();) {
    if (const auto aside = aside_at(rest); !aside.empty()) {
      if (fills(aside, details)) out += filled(aside, details);
      rest.remove_prefix(aside.size() + 2);
    } else {
      const auto plain = rest.substr(0, std::max<std::size_t>(1, rest.find('[')));
      out += filled(plain, details);
      rest.remove_prefix(std::min(rest.size(), plain.size()));
    }
  }
  return out;
}

// True iff every gap of `pattern` has its detail.
bool Words::fills(std::string_view pattern, const core::Details& details) const {
  for (; !pattern.empty(); pattern.remove_prefix(1)) {
    const auto name = gap_at(pattern);
    const auto named = [name](const core::Detail& detail) { return detail.first == name; };
    if (!name.empty() && std::none_of(details.begin(), details.end(), named)) return false;
  }
  return true;
}

std::string Words::filled(std::string_view pattern, const core::Details& details) const {
  std::string out;
  while (!pattern.empty()) {
    const auto name = gap_at(pattern);
    const auto length = name.empty() ? 1 : name.size() + 2;
    out += name.empty() ? std::string{pattern.front()} : worded(name, details);
    pattern.remove_prefix(length);
  }
  return out;
}

// A detail's value, in the catalogue's words if it has any; the gap itself when there is no such detail.
std::string Words::worded(std::string_view name, const core::Details& details) const {
  const auto named = [name](const core::Detail& detail) { return detail.first == name; };
  const auto found = std::find_if(details.begin(), details.end(), named);
  if (found == details.end()) return "{" + std::string{name} + "}";
  const std::string key = "detail." + found->first + "." + found->second;
  return has(key) ? text(key) : found->second;
}

std::string Words::text(const core::Sentence& sentence) const {
  return text(sentence.key, sentence.details);
}

std::vector<std::string> Words::keys() const {
  std::vector<std::string> out;
  for (const auto& [key, text] : texts_) out.push_back(key);
  return out;
}

}  // namespace loadlight::report
