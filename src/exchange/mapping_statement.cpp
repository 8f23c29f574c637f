#include "mapping_statement.h"

#include <algorithm>
#include <cmath>

#include "log_number.h"

namespace loadlight::exchange {
namespace {

// A word of a line: bare, or with a part in double quotes: column="Chamber temp".
struct Word final {
  std::string text;
  std::size_t equals = std::string::npos;  // where the first "=" outside quotes stands
};

// Takes the next word off `rest`; false if a quote is never closed.
bool take_word(std::string_view& rest, Word& word) {
  bool inside = false;
  std::size_t at = 0;
  for (; at < rest.size(); ++at) {
    const char c = rest[at];
    if (!inside && (c == ' ' || c == '\t' || c == '#')) break;
    if (c == '"') {
      inside = !inside;
      continue;
    }
    if (!inside && c == '=' && word.equals == std::string::npos) word.equals = word.text.size();
    word.text.push_back(c);
  }
  rest.remove_prefix(at);
  return !inside;
}

std::string_view take_line(std::string_view& text) {
  const std::size_t end = std::min(text.find('\n'), text.size());
  std::string_view line = text.substr(0, end);
  text.remove_prefix(std::min(end + 1, text.size()));
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  return without_spaces(line);
}

void give_word(MappingStatement& statement, const Word& word) {
  if (word.equals == std::string::npos) return statement.give("", word.text);
  statement.give(word.text.substr(0, word.equals), word.text.substr(word.equals + 1));
}

std::optional<MappingProblem> cut_line(int number, std::string_view rest,
                                       std::vector<MappingStatement>& statements) {
  bool first = true;
  while (!rest.empty() && rest.front() != '#') {
    Word word;
    if (!take_word(rest, word)) return MappingProblem{number, "quote-open", ""};
    if (first) {
      statements.emplace_back(number, word.text);
    } else {
      give_word(statements.back(), word);
    }
    first = false;
    rest = without_spaces(rest);
  }
  return std::nullopt;
}

}  // namespace

void MappingStatement::give(std::string name, std::string value) {
  if (has(name)) fail("value-repeated", name.empty() ? value : name);
  values_.push_back({std::move(name), std::move(value)});
}

bool MappingStatement::has(std::string_view name) const {
  return std::any_of(values_.begin(), values_.end(), [name](const Value& v) { return v.name == name; });
}

std::string MappingStatement::text(std::string_view name) {
  for (Value& value : values_) {
    if (value.name != name) continue;
    value.taken = true;
    if (value.value.empty()) fail("value-missing", name);
    return value.value;
  }
  fail("value-missing", name.empty() ? std::string_view{keyword_} : name);
  return {};
}

double MappingStatement::number(std::string_view name, double least, double most) {
  const std::string given = text(name);
  const auto value = parse_decimal(given, '.');
  if (!value) fail("number-expected", given);
  if (value && !(*value >= least && *value <= most)) fail("number-out-of-range", given);
  return problem_ ? least : *value;
}

int MappingStatement::whole(std::string_view name, int least, int most) {
  const double value = number(name, least, most);
  if (value != std::floor(value)) fail("number-expected", text(name));
  return static_cast<int>(value);
}

void MappingStatement::fail(std::string_view problem, std::string_view what) {
  if (!problem_) problem_ = MappingProblem{line_, std::string{problem}, std::string{what}};
}

std::optional<MappingProblem> MappingStatement::finish() const {
  if (problem_) return problem_;
  for (const Value& value : values_) {
    if (!value.taken) {
      return MappingProblem{line_, "value-unknown", value.name.empty() ? value.value : value.name};
    }
  }
  return std::nullopt;
}

std::optional<MappingProblem> cut_mapping(std::string_view text, std::vector<MappingStatement>& statements) {
  int number = 0;
  while (!text.empty()) {
    if (auto problem = cut_line(++number, take_line(text), statements)) return problem;
  }
  return std::nullopt;
}

}  // namespace loadlight::exchange
