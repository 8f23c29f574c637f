#include <catch2/catch.hpp>
#include <random>
#include <string>

#include "loadlight/exchange/csv.h"

using namespace loadlight;
using exchange::CsvTable;
using exchange::parse_csv;

namespace {

constexpr std::string_view kRequired[] = {"code", "name"};
constexpr std::string_view kOptional[] = {"note"};
constexpr exchange::CsvColumns kColumns{kRequired, kOptional};

CsvTable table_of(std::string_view text) {
  const auto table = parse_csv(text, kColumns);
  REQUIRE(table);
  return *table;
}

// The errors of a table that is refused: "<key> <line>[ <further details>]", separated by "; ".
std::string errors_of(std::string_view text) {
  const auto table = parse_csv(text, kColumns);
  REQUIRE_FALSE(table);
  CHECK(table.failure().code == core::FailureCode::BadCsv);
  std::string out;
  for (const auto& item : table.failure().items) {
    out += (out.empty() ? "" : "; ") + item.key.substr(4);
    for (const auto& [name, value] : item.details) out += " " + value;
  }
  return out;
}

}  // namespace

TEST_CASE("A table is read with the line of each row") {
  const auto table = table_of("code,name\nA,Ann\nB,Bo\n");
  CHECK(table.header == std::vector<std::string>{"code", "name"});
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[1].line == 3);
  CHECK(table.rows[1].cells == std::vector<std::string>{"B", "Bo"});
}

TEST_CASE("Columns come in any order and are found by name") {
  const auto table = table_of("note,name,code\nn,Ann,A");
  CHECK(table.cell(table.rows[0], "code") == "A");
  CHECK(table.cell(table.rows[0], "note") == "n");
  CHECK(table.cell(table.rows[0], "absent").empty());
  CHECK(table.column("name") == 1);
  CHECK_FALSE(table.column("absent"));
}

TEST_CASE("Comma and semicolon, LF and CRLF, mark and none read alike") {
  for (const char* text : {"code,name\nA,x\n", "code;name\nA;x\n", "code,name\r\nA,x\r\n", "code;name\r\nA;x",
                           "\xEF\xBB\xBF"
                           "code,name\nA,x",
                           "\xEF\xBB\xBF"
                           "code;name\r\nA;x\r\n",
                           "\"code\",\"name\"\n\"A\",\"x\"\n"}) {
    const auto table = table_of(text);
    REQUIRE(table.rows.size() == 1);
    CHECK(table.rows[0].cells == std::vector<std::string>{"A", "x"});
  }
}

TEST_CASE("The other separator is plain text") {
  CHECK(table_of("code;name\nA;x, y\n").rows[0].cells[1] == "x, y");
  CHECK(table_of("code,name\nA,x; y\n").rows[0].cells[1] == "x; y");
}

TEST_CASE("Quoted cells hold separators, quotes and line breaks, and lines are counted through them") {
  const auto table = table_of("code,name\nA,\"a, \"\"b\"\"\r\nc\"\nB,\"\"\nC,Müller 包\n");
  REQUIRE(table.rows.size() == 3);
  CHECK(table.rows[0].cells[1] == "a, \"b\"\r\nc");
  CHECK(table.rows[1].line == 4);
  CHECK(table.rows[1].cells[1].empty());
  CHECK(table.rows[2].cells[1] == "Müller 包");
}

TEST_CASE("Lines without anything in them are left out") {
  const auto table = table_of("code,name\n\nA,x\n,\n\r\nB,y\n\n");
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0].line == 3);
  CHECK(table.rows[1].line == 6);
  CHECK(table_of("code,name").rows.empty());
}

TEST_CASE("Missing, unknown and repeated columns are each an error of the header's line") {
  CHECK(errors_of("") == "column-missing 1 code; column-missing 1 name; column-unknown 1 ");
  CHECK(errors_of("code\nA\n") == "column-missing 1 name");
  CHECK(errors_of("code,name,colour\n") == "column-unknown 1 colour");
  CHECK(errors_of("code,name,code\n") == "column-twice 1 code");
  CHECK(errors_of("Code, name\n") ==
        "column-missing 1 code; column-missing 1 name; column-unknown 1 Code; column-unknown 1  name");
  CHECK(errors_of("code\tname\nA\tx\n") ==
        "column-missing 1 code; column-missing 1 name; column-unknown 1 code\tname");
}

TEST_CASE("Every bad row is named with its line") {
  CHECK(errors_of("code,name\nA\nB,x\nC,x,y\n") == "row-cells 2 1 2; row-cells 4 3 2");
  CHECK(errors_of("code,name\nA,x\"y\nB,\"x\"y\nC,\"open\nD,z\n") ==
        "quote-inside 2; after-quote 3; quote-open 4");
}

TEST_CASE("Beyond a hundred errors they are only counted") {
  std::string text = "code,name\n";
  for (int i = 0; i < 250; ++i) text += "A\n";
  const auto table = parse_csv(text, kColumns);
  REQUIRE_FALSE(table);
  CHECK(table.failure().details == core::Details{{"count", "250"}});
  CHECK(table.failure().items.size() == exchange::kMostErrors);
}

TEST_CASE("Size is bounded: the table, a cell, the cells of a line and the rows") {
  CHECK(errors_of(std::string(exchange::kLargestTable + 1, 'a')) == "too-large 1 16777216");
  CHECK(errors_of("code,name\nA," + std::string(exchange::kLongestCell + 1, 'x') + "\n") == "cell-long 2");
  CHECK(table_of("code,name\nA," + std::string(exchange::kLongestCell, 'x')).rows.size() == 1);
  CHECK(errors_of("code,name\nA" + std::string(1'000'000, ',') + "\n") == "many-cells 2; row-cells 2 257 2");
  std::string rows = "code,name\n";
  for (std::size_t i = 0; i <= exchange::kMostRows; ++i) rows += "A,x\n";
  CHECK(errors_of(rows) == "many-rows 200002 200000");
}

TEST_CASE("Other encodings are refused with their line") {
  const auto latin = parse_csv("code,name\nA,M\xFCller\n", kColumns);
  REQUIRE_FALSE(latin);
  CHECK(latin.failure().code == core::FailureCode::BadEncoding);
  CHECK(latin.failure().details == core::Details{{"line", "2"}, {"why", "not-utf-8"}});
}

TEST_CASE("Random text is a table or a failure, never a crash, and rows always have the header's cells") {
  constexpr std::string_view kCharacters = "A,;\"\r\n x";
  std::mt19937 random{2026};
  int tables = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string text = "code,name\n";
    for (auto left = random() % 12; left > 0; --left)
      text.push_back(kCharacters[random() % kCharacters.size()]);
    const auto table = parse_csv(text, kColumns);
    if (!table) continue;
    ++tables;
    for (const auto& row : table->rows) CHECK(row.cells.size() == table->header.size());
  }
  CHECK(tables > 1000);
}
