#include "loadlight/core/programs.h"

#include <array>

namespace loadlight::core {
namespace {

constexpr std::string_view kCdc = "CDC Guideline for Disinfection and Sterilization 2008, Table 7";
constexpr std::string_view kMrc =
    "MRC time-temperature bands, in Central Sterilising Club 2025, Table 10.2 p. 101";
constexpr auto kGravity = AirRemoval::Gravity;
constexpr auto kDynamic = AirRemoval::Dynamic;

// Columns: code, air removal, load kind, deg C, exposure min, drying min, longest run min, source.
// Drying is the lower end of the source's range.
constexpr std::array<Program, 12> kPrograms{{
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
}};

}  // namespace

std::span<const Program> all_programs() { return kPrograms; }

const Program* find_program(std::string_view code) {
  for (const Program& program : kPrograms) {
    if (program.code == code) return &program;
  }
  return nullptr;
}

bool can_run(const Sterilizer& sterilizer, const Program& program) {
  return !program.removal || *program.removal == sterilizer.removal;
}

bool allowed_in_type_n(Wrapping wrapping, const Contents& contents) {
  return !is_wrapped(wrapping) && !contents.hollow;
}

}  // namespace loadlight::core
