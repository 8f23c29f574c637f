#include <catch2/catch.hpp>
#include <random>
#include <string>

#include "loadlight/exchange/csv.h"

using loadlight::exchange::CsvColumns;
using loadlight::exchange::CsvRow;
using loadlight::exchange::parse_csv;

TEST_CASE("Cells are separated by commas and quoted only where RFC 4180 asks it") {
  CHECK(CsvRow{}.add("a").add("").add(12LL).text() == "a,,12");
  CHECK(CsvRow{}.add("").add("").text() == ",");
  CHECK(CsvRow{}.add("a b").add("a,b").text() == "a b,\"a,b\"");
  CHECK(CsvRow{}.add("say \"hi\"").text() == "\"say \"\"hi\"\"\"");
  CHECK(CsvRow{}.add("two\r\nlines").add("x;y").text() == "\"two\r\nlines\",\"x;y\"");
  CHECK(CsvRow{}.add("a").line() == "a\r\n");
}

TEST_CASE("A cell that a spreadsheet would run gets an apostrophe, a number does not") {
  CHECK(CsvRow{}.add("=1+1").text() == "'=1+1");
  CHECK(CsvRow{}.add("@sum").add("+a").add("-a").text() == "'@sum,'+a,'-a");
  CHECK(CsvRow{}.add("\tx").text() == "\"'\tx\"");
  CHECK(CsvRow{}.add("=HYPERLINK(\"x\")").text() == "\"'=HYPERLINK(\"\"x\"\")\"");
  CHECK(CsvRow{}.add("-12.5").add("+3").add(-4LL).text() == "-12.5,+3,-4");
  CHECK(CsvRow{}.add("-").add("-1-1").add("+1.").add("-1.2.3").text() == "'-,'-1-1,'+1.,'-1.2.3");
}

TEST_CASE("What is written is read back, over random cells") {
  constexpr std::string_view kCharacters = "ab,;\"\r\n \t'x1";
  std::mt19937 random{4180};
  const std::string_view names[] = {"one", "two", "three"};
  for (int i = 0; i < 2000; ++i) {
    std::vector<std::string> cells(3, "x");  // the x keeps formulas and blank lines out of it
    for (auto& cell : cells) {
      for (auto left = random() % 8; left > 0; --left)
        cell.push_back(kCharacters[random() % kCharacters.size()]);
    }
    const auto table = parse_csv(CsvRow{}.add("one").add("two").add("three").line() +
                                     CsvRow{}.add(cells[0]).add(cells[1]).add(cells[2]).line(),
                                 CsvColumns{names});
    REQUIRE(table);
    REQUIRE(table->rows.size() == 1);
    CHECK(table->rows[0].cells == cells);
  }
}
