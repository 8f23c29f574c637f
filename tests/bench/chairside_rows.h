// Rows about the chairside: a label that is brought before a camera, and how long it takes until it is told.
#pragma once

#include "bench/label_rows.h"

namespace loadlight::bench {

// Clips of 1280 x 720 at 30 frames a second: a label of 4 to 6 pixels a module comes into view, out of focus
// at first, sharp after half a second. The text is steady when two frames in a row read it, as
// app/watch_packages.h asks before it shows the first Clear.
void print_chairside(const Draw& draw, int clips);

}  // namespace loadlight::bench
