#include "loadlight/core/packing_steps.h"

namespace loadlight::core {
namespace {

bool always(Wrapping, const Contents&) { return true; }
bool packed(Wrapping w, const Contents&) { return is_wrapped(w); }
bool pouch(Wrapping w, const Contents&) { return w == Wrapping::Pouch; }
bool wrap(Wrapping w, const Contents&) {
  return w == Wrapping::DoubleWrap || w == Wrapping::WrappedCassette;
}
bool reused(Wrapping w, const Contents&) {
  return w == Wrapping::WrappedCassette || w == Wrapping::RigidContainer;
}
bool hinged(Wrapping, const Contents& c) { return c.hinged; }
bool not_stainless(Wrapping, const Contents& c) { return c.not_stainless; }

// Steps without a source are common practice of the trade.
constexpr PackingStep kSteps[] = {
    {"clean-inspected-dry", always,
     "pouch makers: instruments clean and dry before packing (reported); inspection: common practice"},
    {"old-label-off", reused, ""},
    {"smallest-that-fits", packed, ""},
    {"hinged-open", hinged, ""},
    {"corrosion-inhibitor", not_stainless, ""},
    {"internal-indicator", packed,
     "CDC dental FAQ, Best Practices for Sterilization Monitoring; MMWR 52(RR-17) 2003 VI.F.3"},
    {"sharp-tips-guarded", packed, ""},
    {"fold-on-the-line", pouch,
     "trade article 2002 (reported): fold on the perforation, about half on paper and half on film"},
    {"two-layers-no-metal", wrap, ""},
    {"tape-and-corner", wrap, ""},
    {"label-on-film-or-tape", packed,
     "ANSI/AAMI ST79 8.3.2, as reported by the OSAP FAQ: plastic side, self-seal tab, or tape on a wrap"},
};

}  // namespace

std::span<const PackingStep> all_packing_steps() { return kSteps; }

std::vector<PackingStep> packing_steps_for(Wrapping wrapping, const Contents& contents) {
  std::vector<PackingStep> steps;
  for (const PackingStep& step : kSteps) {
    if (step.applies(wrapping, contents)) steps.push_back(step);
  }
  return steps;
}

}  // namespace loadlight::core
