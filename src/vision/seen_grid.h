// A grid laid over a symbol, and what is seen in it.
#pragma once

#include "vision/grid_fit.h"
#include "vision/grid_map.h"
#include "vision/soft_grid.h"

namespace loadlight::vision {

struct SeenGrid final {
  GridMap map;  // in pixels of the view
  SoftGrid seen;
  double likeness = 0;  // mean agreement of the modules that all symbols share: 1 for all, 0 for chance
};

// How much may be tried for one place.
struct GridBudget final {
  int lattices = 8;  // laid in full, at most
  int anchors = 40;  // sets of finders looked at, at most
  Deadline deadline = Deadline::max();  // no further lattice is laid after it
};

inline GridBudget until(Deadline deadline, GridBudget budget) {
  budget.deadline = deadline;
  return budget;
}

}  // namespace loadlight::vision
