#include "loadlight/core/programs.h"

#include <catch2/catch.hpp>

#include <set>

namespace loadlight::core {
namespace {

struct Row final {
  const char* code;
  std::optional<AirRemoval> removal;
  LoadKind kind;
  double celsius;
  double exposure;
  double drying;
};

void require_row(const Row& row) {
  CAPTURE(row.code);
  const Program* program = find_program(row.code);
  REQUIRE(program != nullptr);
  CHECK(program->removal == row.removal);
  CHECK(program->load_kind == row.kind);
  CHECK(program->celsius == row.celsius);
  CHECK(program->exposure_minutes == row.exposure);
  CHECK(program->drying_minutes == row.drying);
}

const auto kGravity = AirRemoval::Gravity;
const auto kDynamic = AirRemoval::Dynamic;

// CDC Guideline for Disinfection and Sterilization in Healthcare Facilities, 2008, Table 7, row by row;
// where it states a range of drying times, the lower end.
const Row kTable7[] = {
    {"gravity-121-wrapped", kGravity, LoadKind::Wrapped, 121, 30, 15},
    {"gravity-132-wrapped", kGravity, LoadKind::Wrapped, 132, 15, 15},
    {"gravity-121-textiles", kGravity, LoadKind::Textiles, 121, 30, 15},
    {"gravity-132-textiles", kGravity, LoadKind::Textiles, 132, 25, 15},
    {"gravity-121-utensils", kGravity, LoadKind::Utensils, 121, 30, 15},
    {"gravity-132-utensils", kGravity, LoadKind::Utensils, 132, 15, 15},
    {"dynamic-132-wrapped", kDynamic, LoadKind::Wrapped, 132, 4, 20},
    {"dynamic-132-textiles", kDynamic, LoadKind::Textiles, 132, 4, 5},
    {"dynamic-132-utensils", kDynamic, LoadKind::Utensils, 132, 4, 20},
};

// MRC time-temperature bands in Central Sterilising Club 2025, Table 10.2 p. 101; it states no drying.
const Row kMrc[] = {
    {"steam-121", std::nullopt, LoadKind::Any, 121, 15, 0},
    {"steam-126", std::nullopt, LoadKind::Any, 126, 10, 0},
    {"steam-134", std::nullopt, LoadKind::Any, 134, 3, 0},
};

}  // namespace

TEST_CASE("The steam programs are CDC 2008 Table 7, row by row") {
  for (const Row& row : kTable7) {
    require_row(row);
    CHECK(find_program(row.code)->source.find("Table 7") != std::string::npos);
  }
}

TEST_CASE("The general steam programs have the MRC holding times") {
  for (const Row& row : kMrc) {
    require_row(row);
    CHECK(find_program(row.code)->source.find("MRC") != std::string::npos);
  }
}

TEST_CASE("No program stands in the table beside those two sources") {
  REQUIRE(all_programs().size() == std::size(kTable7) + std::size(kMrc));
  std::set<std::string_view> codes;
  for (const Program& program : all_programs()) {
    REQUIRE(codes.insert(program.code).second);
    REQUIRE_FALSE(program.source.empty());
    REQUIRE(program.longest_run_minutes > program.exposure_minutes + program.drying_minutes);
  }
  REQUIRE(find_program("") == nullptr);
  REQUIRE(find_program("gravity-121") == nullptr);
}

// CDC 2008 Table 7: n/a.
TEST_CASE("Dynamic air removal has no program at 121 degrees") {
  for (const Program& program : all_programs()) {
    REQUIRE_FALSE((program.removal == kDynamic && program.celsius == 121));
  }
}

TEST_CASE("A sterilizer runs the programs of its own air removal and those of either kind") {
  for (AirRemoval removal : {kGravity, kDynamic}) {
    Sterilizer sterilizer;
    sterilizer.removal = removal;
    for (const Program& program : all_programs()) {
      REQUIRE(can_run(sterilizer, program) == (program.removal.value_or(removal) == removal));
    }
  }
}

// EN 13060 (draft) summary: type N is for unwrapped solid items.
TEST_CASE("A type N sterilizer takes only what is neither wrapped nor hollow") {
  for (const auto& term : Vocabulary<Wrapping>::kTerms) {
    for (bool hollow : {false, true}) {
      Contents what;
      what.hollow = hollow;
      REQUIRE(allowed_in_type_n(term.value, what) == (term.value == Wrapping::Unwrapped && !hollow));
    }
  }
}

namespace {

OfficeProgram entered(LoadKind kind, double celsius, double exposure, double drying) {
  OfficeProgram program;
  program.code = "POUCHES";
  program.sterilizer = "S1";
  program.load_kind = kind;
  program.celsius = celsius;
  program.exposure_minutes = exposure;
  program.drying_minutes = drying;
  program.document = "Operating instructions";
  program.page = "p. 12";
  return program;
}

Program as_run(const OfficeProgram& program, AirRemoval removal) {
  Sterilizer sterilizer;
  sterilizer.code = "S1";
  sterilizer.removal = removal;
  return program_of(program, sterilizer);
}

}  // namespace

// CDC dental FAQ: the levels recommended by the sterilizer's maker win over any table.
TEST_CASE("A program from the maker's instructions governs by its own values", "[R29]") {
  const Program program = as_run(entered(LoadKind::Wrapped, 132, 6, 25), kDynamic);
  CHECK(program.celsius == 132);
  CHECK(program.exposure_minutes == 6);
  CHECK(program.drying_minutes == 25);
  CHECK(program.source == "Operating instructions, p. 12");
  CHECK_FALSE(program.below_table);
  CHECK(program.accepted);
}

// CDC 2008 Table 7: dynamic air removal, wrapped, 132 C: 4 min, drying from 20 min. MRC: 134 C 3 min.
TEST_CASE("A program that asks less than the table's is below it at either value, and not at the bound",
          "[R29]") {
  CHECK_FALSE(as_run(entered(LoadKind::Wrapped, 132, 4, 20), kDynamic).below_table);
  CHECK(as_run(entered(LoadKind::Wrapped, 132, 3.9, 20), kDynamic).below_table);
  CHECK(as_run(entered(LoadKind::Wrapped, 132, 4, 19.9), kDynamic).below_table);
  CHECK_FALSE(as_run(entered(LoadKind::Wrapped, 134, 3, 0), kDynamic).below_table);
  CHECK(as_run(entered(LoadKind::Wrapped, 134, 2.9, 0), kDynamic).below_table);
  CHECK(as_run(entered(LoadKind::Any, 115, 30, 0), kGravity).below_table);
}

TEST_CASE("Hotter programs are measured by the hottest row that is not hotter than they are", "[R29]") {
  CHECK(table_row_for(kDynamic, LoadKind::Wrapped, 133.9)->code == "dynamic-132-wrapped");
  CHECK(table_row_for(kDynamic, LoadKind::Wrapped, 134)->code == "steam-134");
  CHECK(table_row_for(kGravity, LoadKind::Textiles, 121)->code == "gravity-121-textiles");
  CHECK(table_row_for(kGravity, LoadKind::Wrapped, 120.9) == nullptr);
}

TEST_CASE("A program below the table waits for a lead's signature", "[R29]") {
  OfficeProgram program = entered(LoadKind::Wrapped, 132, 3.5, 20);
  CHECK_FALSE(as_run(program, kDynamic).accepted);
  program.accepted_by = "AB";
  CHECK(as_run(program, kDynamic).accepted);
}

}  // namespace loadlight::core
