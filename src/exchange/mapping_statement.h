// One line of a mapping file, and a reader of its values.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loadlight/core/vocabulary.h"

namespace loadlight::exchange {

struct MappingProblem final {
  int line = 0;  // 0: the whole file
  std::string problem;
  std::string what;
};

// After a problem every answer is a harmless default; the first one is kept. The nameless value is the
// word after the keyword.
class MappingStatement final {
 public:
  MappingStatement(int line, std::string keyword) : line_(line), keyword_(std::move(keyword)) {}

  int line() const { return line_; }
  const std::string& keyword() const { return keyword_; }
  void give(std::string name, std::string value);  // from the file

  bool has(std::string_view name) const;
  std::string text(std::string_view name);  // not empty
  double number(std::string_view name, double least, double most);
  int whole(std::string_view name, int least, int most);
  template <class E>
  void choose(std::string_view name, E& chosen) {
    const std::string given = text(name);
    if (const auto value = core::parse<E>(given)) {
      chosen = *value;
    } else {
      fail("value-unknown", given);
    }
  }
  void fail(std::string_view problem, std::string_view what);

  // The first problem; also a value that nobody asked for.
  std::optional<MappingProblem> finish() const;

 private:
  struct Value final {
    std::string name, value;
    bool taken = false;
  };

  int line_;
  std::string keyword_;
  std::vector<Value> values_;
  std::optional<MappingProblem> problem_;
};

// The statements of a whole file, or what is wrong with it.
std::optional<MappingProblem> cut_mapping(std::string_view text, std::vector<MappingStatement>& statements);

}  // namespace loadlight::exchange
