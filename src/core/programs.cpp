#include "loadlight/core/programs.h"

#include <vector>

namespace loadlight::core {
namespace {

constexpr const char* kCdc = "CDC Guideline for Disinfection and Sterilization 2008, Table 7";
constexpr const char* kMrc =
    "MRC time-temperature bands, in Central Sterilising Club 2025, Table 10.2 p. 101";
constexpr auto kGravity = AirRemoval::Gravity;
constexpr auto kDynamic = AirRemoval::Dynamic;

// Columns: code, air removal, load kind, deg C, exposure min, drying min, longest run min, source.
// Drying is the lower end of the source's range.
const std::vector<Program>& table() {
  static const std::vector<Program> rows{
      {"gravity-121-wrapped", kGravity, LoadKind::Wrapped, 121, 30, 15, 180, kCdc},
      {"gravity-121-textiles", kGravity, LoadKind::Textiles, 121, 30, 15, 180, kCdc},
      {"gravity-121-utensils", kGravity, LoadKind::Utensils, 121, 30, 15, 180, kCdc},
      {"gravity-132-wrapped", kGravity, LoadKind::Wrapped, 132, 15, 15, 180, kCdc},
      {"gravity-132-textiles", kGravity, LoadKind::Textiles, 132, 25, 15, 180, kCdc},
      {"gravity-132-utensils", kGravity, LoadKind::Utensils, 132, 15, 15, 180, kCdc},
      {"dynamic-132-wrapped", kDynamic, LoadKind::Wrapped, 132, 4, 20, 150, kCdc},
      {"dynamic-132-textiles", kDynamic, LoadKind::Textiles, 132, 4, 5, 150, kCdc},
      {"dynamic-132-utensils", kDynamic, LoadKind::Utensils, 132, 4, 20, 150, kCdc},
      {"steam-121", std::nullopt, LoadKind::Any, 121, 15, 0, 180, kMrc},
      {"steam-126", std::nullopt, LoadKind::Any, 126, 10, 0, 180, kMrc},
      {"steam-134", std::nullopt, LoadKind::Any, 134, 3, 0, 150, kMrc},
  };
  return rows;
}

// A program that the office entered is overdue after its own times and this much for the rest of the run
// (common practice, generous).
constexpr int kRestOfRunMinutes = 120;

}  // namespace

std::span<const Program> all_programs() {
  return table();
}

const Program* find_program(std::string_view code) {
  for (const Program& program : table()) {
    if (program.code == code) return &program;
  }
  return nullptr;
}

const Program* table_row_for(AirRemoval removal, LoadKind load_kind, double celsius) {
  const Program* best = nullptr;
  for (const Program& row : table()) {
    const bool fits = row.removal.value_or(removal) == removal &&
                      (row.load_kind == load_kind || row.load_kind == LoadKind::Any) &&
                      row.celsius <= celsius;
    if (!fits) continue;
    const bool better =
        !best || row.celsius > best->celsius || (row.celsius == best->celsius && row.load_kind == load_kind);
    if (better) best = &row;
  }
  return best;
}

Program program_of(const OfficeProgram& entered, const Sterilizer& sterilizer) {
  const Program* row = table_row_for(sterilizer.removal, entered.load_kind, entered.celsius);
  Program program;
  program.code = entered.code;
  program.removal = sterilizer.removal;
  program.load_kind = entered.load_kind;
  program.celsius = entered.celsius;
  program.exposure_minutes = entered.exposure_minutes;
  program.drying_minutes = entered.drying_minutes;
  program.longest_run_minutes =
      static_cast<int>(entered.exposure_minutes + entered.drying_minutes) + kRestOfRunMinutes;
  program.source = entered.document + ", " + entered.page;
  program.below_table = !row || entered.exposure_minutes < row->exposure_minutes ||
                        entered.drying_minutes < row->drying_minutes;
  program.accepted = !program.below_table || !entered.accepted_by.empty();
  return program;
}

bool can_run(const Sterilizer& sterilizer, const Program& program) {
  return !program.removal || *program.removal == sterilizer.removal;
}

bool allowed_in_type_n(Wrapping wrapping, const Contents& contents) {
  return !is_wrapped(wrapping) && !contents.hollow;
}

}  // namespace loadlight::core
