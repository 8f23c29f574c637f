#include "label/template_statement.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace loadlight::label {
namespace {

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r';
}
bool is_printable_ascii(char c) {
  return c >= 0x21 && c <= 0x7e;
}

// Splits off the text before `mark`; `rest` is left with what follows it.
std::string_view cut_before(std::string_view& rest, char mark) {
  const auto at = rest.find(mark);
  const std::string_view head = rest.substr(0, at);
  rest = at == std::string_view::npos ? std::string_view{} : rest.substr(at + 1);
  return head;
}

std::vector<std::string_view> words_of(std::string_view line) {
  line = cut_before(line, '#');
  std::vector<std::string_view> words;
  for (std::size_t at = 0; at < line.size() && words.size() <= kMostWordsOfStatement;) {
    const auto start = std::find_if_not(line.begin() + static_cast<std::ptrdiff_t>(at), line.end(), is_blank);
    const auto end = std::find_if(start, line.end(), is_blank);
    if (start != end) words.emplace_back(&*start, static_cast<std::size_t>(end - start));
    at = static_cast<std::size_t>(end - line.begin());
  }
  return words;
}

std::optional<ProblemAt> problem_of_words(const std::vector<std::string_view>& words, int line) {
  if (words.size() > kMostWordsOfStatement) return ProblemAt{TemplateProblem::TooLarge, line, ""};
  for (std::string_view word : words) {
    if (!std::all_of(word.begin(), word.end(), is_printable_ascii)) {
      return ProblemAt{TemplateProblem::NotText, line, ""};
    }
  }
  return std::nullopt;
}

Statement statement_of(const std::vector<std::string_view>& words, int line) {
  Statement statement{line, words.front(), {}, {}};
  for (std::size_t i = 1; i < words.size(); ++i) {
    std::string_view value = words[i];
    if (i == 1 && value.find('=') == std::string_view::npos) {
      statement.subject = value;
      continue;
    }
    const std::string_view name = cut_before(value, '=');
    statement.values.emplace_back(name, value);
  }
  return statement;
}

}  // namespace

StatementsOrProblem cut_statements(std::string_view text) {
  if (text.size() > kMostTemplateBytes) return ProblemAt{TemplateProblem::TooLarge, 0, ""};
  std::vector<Statement> statements;
  for (int line = 1; !text.empty(); ++line) {
    const auto words = words_of(cut_before(text, '\n'));
    if (words.empty()) continue;
    if (auto problem = problem_of_words(words, line)) return *problem;
    statements.push_back(statement_of(words, line));
    if (statements.size() > kMostStatements) return ProblemAt{TemplateProblem::TooLarge, line, ""};
  }
  return statements;
}

std::optional<std::string_view> StatementReader::take(std::string_view name) {
  std::optional<std::string_view> found;
  for (const auto& [key, value] : statement_.values) {
    if (key != name) continue;
    if (found) fail(TemplateProblem::ValueRepeated, name);
    found = value;
  }
  taken_.push_back(name);
  return found;
}

double StatementReader::number(std::string_view text, double least, double most) {
  double value = 0;
  const auto end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value, std::chars_format::fixed);
  if (error != std::errc{} || stop != end || !std::isfinite(value)) {
    fail(TemplateProblem::NumberExpected, text);
    return least;
  }
  if (value < least || value > most) {
    fail(TemplateProblem::NumberOutOfRange, text);
    return least;
  }
  return value;
}

void StatementReader::read_numbers(std::string_view name, double* found, std::size_t count, double least,
                                   double most) {
  std::fill(found, found + count, least);
  const auto value = take(name);
  if (!value) return fail(TemplateProblem::ValueMissing, name);
  if (static_cast<std::size_t>(std::count(value->begin(), value->end(), ',')) + 1 != count) {
    return fail(TemplateProblem::NumberExpected, *value);
  }
  std::string_view rest = *value;
  for (std::size_t i = 0; i < count; ++i) found[i] = number(cut_before(rest, ','), least, most);
}

double StatementReader::number_or(std::string_view name, double otherwise, double least, double most) {
  const auto value = take(name);
  return value ? number(*value, least, most) : otherwise;
}

int StatementReader::whole_or(std::string_view name, int otherwise, int least, int most) {
  const double value = number_or(name, otherwise, least, most);
  if (value != std::floor(value)) fail(TemplateProblem::NumberExpected, name);
  return static_cast<int>(value);
}

bool StatementReader::flag(std::string_view name) {
  const auto value = take(name);
  if (value && !value->empty()) fail(TemplateProblem::ValueUnknown, *value);
  return value.has_value();
}

std::size_t StatementReader::choice_or_first(std::string_view name,
                                             std::initializer_list<std::string_view> choices) {
  const auto value = take(name);
  if (!value) return 0;
  const auto at = std::find(choices.begin(), choices.end(), *value);
  if (at != choices.end()) return static_cast<std::size_t>(at - choices.begin());
  fail(TemplateProblem::ValueUnknown, *value);
  return 0;
}

void StatementReader::fail(TemplateProblem problem, std::string_view what) {
  if (!problem_) problem_ = ProblemAt{problem, statement_.line, std::string{what}};
}

std::optional<ProblemAt> StatementReader::finish() {
  for (const auto& [name, value] : statement_.values) {
    const bool known = std::find(taken_.begin(), taken_.end(), name) != taken_.end();
    if (!known) fail(TemplateProblem::ValueUnknown, name);
  }
  return problem_;
}

}  // namespace loadlight::label
