// Sterilizer programs: minimum exposure and drying by kind of sterilizer, kind of load and temperature.
// The sterilizer maker's instructions come first; an office enters its own in a later table.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "loadlight/core/office.h"

namespace loadlight::core {

enum class LoadKind { Wrapped, Textiles, Utensils, Any };

struct Program final {
  std::string_view code;
  std::optional<AirRemoval> removal;  // none: either kind of sterilizer
  LoadKind load_kind;
  double celsius;             // set temperature
  double exposure_minutes;    // at least this long at `celsius` or above
  double drying_minutes;      // at least this long for wrapped packages; 0: the source states none
  int longest_run_minutes;    // a load that runs longer is overdue (common practice, generous)
  std::string_view source;
};

std::span<const Program> all_programs();
const Program* find_program(std::string_view code);  // null if unknown

// True iff a sterilizer of this kind has the program's way of removing air.
bool can_run(const Sterilizer& sterilizer, const Program& program);

// True iff a type N program may hold it: solid and unwrapped (EN 13060 types; facts of the trade).
bool allowed_in_type_n(Wrapping wrapping, const Contents& contents);

}  // namespace loadlight::core
