// Rows about whole frames: shelves, sweeps along a shelf, and real photographs.
#pragma once

#include <string>

#include "bench/label_rows.h"

namespace loadlight::bench {

// Reads of `frames` 4K frames of 80 labels each, at a difficulty.
Scores shelf_scores(double difficulty, int frames, std::uint64_t seed);

void print_shelf_goals(const Draw& draw, int frames);
void print_sweep_goals(const Draw& draw);

// A folder of photographs with manifest.csv (columns file, expected_text and others; quotes doubled,
// backslashes doubled, line ends written \n and \r). False if there are none.
bool print_photo_goals(const std::string& folder);

}  // namespace loadlight::bench
