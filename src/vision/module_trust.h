// Which modules show the symbol at all, and which are covered or blown out.
#pragma once

#include "vision/module_plane.h"

namespace loadlight::vision {

// From the grey levels of modules: 1 where they are to be believed, 0 where something flat lies on the symbol
// (nothing printed is of one tone over so many modules) or where it is brighter than paper; in between beside
// such places.
ModulePlane trust_in(const ModulePlane& levels);

}  // namespace loadlight::vision
