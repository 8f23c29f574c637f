#include "web/first_tables.h"

namespace loadlight::web {
namespace {

using app::OfficeTable;

constexpr FirstTable kFirst[] = {{OfficeTable::Sterilizers, "sterilizer-1", true},
                                 {OfficeTable::Kinds, "kind-1", true},
                                 {OfficeTable::Contents, "contents-1", true},
                                 {OfficeTable::Contents, "contents-2", false},
                                 {OfficeTable::Locations, "location-1", false},
                                 {OfficeTable::Stocks, "stock-1", true}};

struct Example final {
  std::string_view first;
  std::string_view column;
  std::string_view value;
};
// Names are in the words: "first-run.<name>.<column>".
constexpr Example kExamples[] = {{"sterilizer-1", "code", "S1"},  {"sterilizer-1", "removal", "gravity"},
                                 {"sterilizer-1", "type", "S"},   {"kind-1", "code", "P"},
                                 {"kind-1", "wrapping", "pouch"}, {"contents-1", "code", "EXAM"},
                                 {"contents-2", "code", "EXTR"},  {"contents-2", "hinged", "yes"},
                                 {"location-1", "code", "CAB1"},  {"stock-1", "code", "LABELS"},
                                 {"stock-1", "method", "laser"},  {"stock-1", "dpi", "600"},
                                 {"stock-1", "rating", "maker-sheet"}};

}  // namespace

std::span<const FirstTable> first_tables() {
  return kFirst;
}

app::Row example_of(const Visit& visit, const FirstTable& first) {
  app::Row row;
  for (const app::Column& column : app::text_of(first.table).columns) {
    const std::string key = "first-run." + std::string{first.name} + "." + std::string{column.name};
    if (visit.language.words.has(key)) row.emplace_back(column.name, visit.word(key));
  }
  for (const Example& example : kExamples) {
    if (example.first == first.name) row.emplace_back(example.column, example.value);
  }
  return row;
}

}  // namespace loadlight::web
