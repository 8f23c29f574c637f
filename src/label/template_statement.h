// The lines of a template file, cut into words, and a reader of one line's values.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "loadlight/core/result.h"

namespace loadlight::label {

// Everything that can be wrong with a template: enumerator, code.
#define LOADLIGHT_TEMPLATE_PROBLEMS(ROW)       \
  ROW(TooLarge, "too-large")                   \
  ROW(NotText, "not-text")                     \
  ROW(HeaderMissing, "header-missing")         \
  ROW(LaterForm, "later-form")                 \
  ROW(StatementUnknown, "statement-unknown")   \
  ROW(StatementRepeated, "statement-repeated") \
  ROW(StatementMissing, "statement-missing")   \
  ROW(ValueMissing, "value-missing")           \
  ROW(ValueUnknown, "value-unknown")           \
  ROW(ValueRepeated, "value-repeated")         \
  ROW(NumberExpected, "number-expected")       \
  ROW(NumberOutOfRange, "number-out-of-range") \
  ROW(FieldUnknown, "field-unknown")           \
  ROW(FieldMissing, "field-missing")           \
  ROW(FieldNotOptional, "field-not-optional")  \
  ROW(SymbolMissing, "symbol-missing")         \
  ROW(SymbolRepeated, "symbol-repeated")       \
  ROW(SymbolForAnother, "symbol-for-another")  \
  ROW(SymbolCovered, "symbol-covered")         \
  ROW(OutsideCell, "outside-cell")             \
  ROW(CellsOutsidePage, "cells-outside-page")  \
  ROW(CellsOverlap, "cells-overlap")           \
  ROW(RegionOpen, "region-open")               \
  ROW(RegionNotOpen, "region-not-open")

enum class TemplateProblem {
#define ROW(name, code) name,
  LOADLIGHT_TEMPLATE_PROBLEMS(ROW)
#undef ROW
};

// Where and what; line 0 means the whole file.
struct ProblemAt final {
  TemplateProblem problem;
  int line = 0;
  std::string what;
};

// Sizes beyond which a file is no template.
inline constexpr std::size_t kMostTemplateBytes = 64 * 1024;
inline constexpr std::size_t kMostStatements = 400;
inline constexpr std::size_t kMostWordsOfStatement = 24;

// "keyword [subject] name=value… flag…"
struct Statement final {
  int line = 0;
  std::string_view keyword;
  std::string_view subject;  // the second word, when it is no name=value
  std::vector<std::pair<std::string_view, std::string_view>> values;  // a flag's value is empty
};

// The statements of `text`, which must outlive them; or what is wrong.
using StatementsOrProblem = std::variant<std::vector<Statement>, ProblemAt>;
StatementsOrProblem cut_statements(std::string_view text);

// Reads one statement's values by name and remembers the first problem; after a problem every answer is
// a harmless default.
class StatementReader final {
 public:
  explicit StatementReader(const Statement& statement) : statement_(statement) {}

  // Comma-separated numbers, each from `least` to `most`, both included.
  template <std::size_t N>
  std::array<double, N> numbers(std::string_view name, double least, double most) {
    std::array<double, N> found{};
    read_numbers(name, found.data(), N, least, most);
    return found;
  }
  double number_or(std::string_view name, double otherwise, double least, double most);
  int whole_or(std::string_view name, int otherwise, int least, int most);
  bool flag(std::string_view name);
  // One of `choices`, whose position is returned; 0 when the value is absent.
  std::size_t choice_or_first(std::string_view name, std::initializer_list<std::string_view> choices);
  void fail(TemplateProblem problem, std::string_view what);

  // The first problem; also a value that nobody asked for.
  std::optional<ProblemAt> finish();

 private:
  std::optional<std::string_view> take(std::string_view name);
  void read_numbers(std::string_view name, double* found, std::size_t count, double least, double most);
  double number(std::string_view text, double least, double most);

  const Statement& statement_;
  std::vector<std::string_view> taken_;
  std::optional<ProblemAt> problem_;
};

}  // namespace loadlight::label
