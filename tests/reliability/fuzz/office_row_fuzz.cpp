// A table of the office that is imported: operators, sterilizers, contents and the rest. The first byte picks the
// table, the rest is its CSV.
//
// Promises: an entry without a problem is written as a row that reads as the same entry; its code is one that fits a
// label; a problem names a column of the table.
#include <algorithm>

#include "app/office_columns.h"
#include "fuzz_input.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::fuzz {
namespace {

using namespace app;

constexpr std::size_t kLongestCode = 8;
constexpr std::size_t kLongestLot = 40;

const core::CivilDate kToday = *core::CivilDate::from(2026, 11, 25);

std::vector<std::string_view> names_of(const TableText& table) {
  std::vector<std::string_view> names;
  for (const Column& column : table.columns) names.push_back(column.name);
  return names;
}

void must_name_columns(const std::vector<RowProblem>& problems, const std::vector<std::string_view>& names) {
  for (const RowProblem& problem : problems) {
    promise(std::find(names.begin(), names.end(), problem.column) != names.end(), "a problem names a column");
    promise(problem.given.size() <= 80, "a problem repeats no more than a little");
  }
}

template <class Entry>
void try_as(const Row& row, const TableText& table) {
  std::vector<RowProblem> problems;
  const Entry entry = parse_row<Entry>(row, kToday, problems);
  must_name_columns(problems, names_of(table));
  if (!problems.empty()) return;
  const Row written = to_row(entry);
  const auto& [column, key] = written.front();
  promise(column == "lot" ? key.size() <= kLongestLot : core::is_code(key, kLongestCode), "a key fits its place");
  promise(to_row(parse_row<Entry>(written, kToday, problems)) == written, "an entry is written as it was");
  promise(problems.empty(), "what we write has no problem");
  for (const auto& [name, value] : written) {
    promise(value.find_first_of(std::string_view{"\0\r\n\t", 4}) == std::string::npos, "a text is one line");
  }
}

struct Table final {
  OfficeTable table;
  void (*attempt)(const Row& row, const TableText& table);
};
constexpr Table kTables[] = {{OfficeTable::Operators, try_as<core::Operator>},
                             {OfficeTable::Sterilizers, try_as<core::Sterilizer>},
                             {OfficeTable::Contents, try_as<core::Contents>},
                             {OfficeTable::Kinds, try_as<core::PackageKind>},
                             {OfficeTable::Locations, try_as<core::Location>},
                             {OfficeTable::Stocks, try_as<core::LabelStock>},
                             {OfficeTable::Programs, try_as<core::OfficeProgram>},
                             {OfficeTable::Consumables, try_as<core::Consumable>}};

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  fuzz::Input input{data, size};
  const auto& [table, attempt] = fuzz::kTables[input.choice(std::size(fuzz::kTables))];
  const app::TableText& text = app::text_of(table);
  const auto names = fuzz::names_of(text);
  const auto read = exchange::parse_csv(input.rest(), {{}, names});
  if (!read) return 0;
  for (const exchange::CsvLine& line : read->rows) {
    app::Row row;
    for (std::size_t i = 0; i < line.cells.size(); ++i) row.emplace_back(read->header[i], line.cells[i]);
    attempt(row, text);
  }
  return 0;
}
