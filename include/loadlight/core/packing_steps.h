// The steps of packing that are shown and acknowledged before a label is printed. Words are in
// templates/words ("packing.<code>"); makers' instructions come first.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "loadlight/core/office.h"

namespace loadlight::core {

struct PackingStep final {
  std::string_view code;
  bool (*applies)(Wrapping, const Contents&);
  std::string_view source;  // empty: common practice
};

std::span<const PackingStep> all_packing_steps();

// The steps for this kind of package and these contents, in working order.
std::vector<PackingStep> packing_steps_for(Wrapping wrapping, const Contents& contents);

}  // namespace loadlight::core
