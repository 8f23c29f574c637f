// Sterilizer programs: minimum exposure and drying by kind of sterilizer, kind of load and temperature.
// The sterilizer maker's instructions come first: a program that the office entered from them governs the
// loads that name it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "loadlight/core/office.h"
#include "loadlight/core/upkeep.h"

namespace loadlight::core {

struct Program final {
  std::string code;
  std::optional<AirRemoval> removal;  // none: either kind of sterilizer
  LoadKind load_kind = LoadKind::Any;
  double celsius = 0;           // set temperature
  double exposure_minutes = 0;  // at least this long at `celsius` or above
  double drying_minutes = 0;    // at least this long for wrapped packages; 0: the source states none
  int longest_run_minutes = 0;  // a load that runs longer is overdue (common practice, generous)
  std::string source;
  bool below_table = false;  // the maker allows less than the table asks
  bool accepted = true;      // false: below the table, and no lead has signed for it yet
};

std::span<const Program> all_programs();
const Program* find_program(std::string_view code);  // null if unknown

// The row of the table that an entered program is measured by: of this air removal and load kind (or any),
// the hottest one that is not hotter than `celsius`; of equally hot ones the one made for this load kind.
// Null when all are hotter.
const Program* table_row_for(AirRemoval removal, LoadKind load_kind, double celsius);

// An entered program as its sterilizer's loads are judged by it.
Program program_of(const OfficeProgram& entered, const Sterilizer& sterilizer);

// True iff a sterilizer of this kind has the program's way of removing air.
bool can_run(const Sterilizer& sterilizer, const Program& program);

// True iff a type N program may hold it: solid and unwrapped (EN 13060 types; facts of the trade).
bool allowed_in_type_n(Wrapping wrapping, const Contents& contents);

}  // namespace loadlight::core
