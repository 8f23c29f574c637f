// What black and white are around each module of a symbol.
#pragma once

#include "vision/module_plane.h"

namespace loadlight::vision {

struct ModuleTones final {
  ModulePlane black;
  ModulePlane white;

  double contrast(int x, int y) const { return white.at(x, y) - black.at(x, y); }
  double middle(int x, int y) const { return (white.at(x, y) + black.at(x, y)) / 2; }
};

// From the grey levels of modules up to `around` modules away, those of `trust` 0 left out.
ModuleTones tones_of(const ModulePlane& levels, const ModulePlane& trust, int around);

double usual_contrast(const ModuleTones& tones);

}  // namespace loadlight::vision
