// Symbols as a picture might show them, for tests: what is said of each module, and how it can be damaged.
#pragma once

#include <random>
#include <string>

#include "loadlight/core/symbol.h"
#include "vision/drawn_symbol.h"
#include "vision/soft_grid.h"

namespace loadlight::vision_tests {

using Random = std::mt19937;

// Every module told with the same certainty.
vision::SoftGrid soft_grid(const cv::Mat& symbol, float certainty);
vision::SoftGrid soft_grid(const core::SymbolGrid& symbol, float certainty);

// What remains of it when the levels have Gaussian noise: true likelihoods, times `confidence`.
vision::SoftGrid noisy(const core::SymbolGrid& symbol, double sigma, float confidence, Random& random);

// Modules that say nothing but are as sure as others: the symbol's size, every module its own.
vision::SoftGrid random_grid(int side, float certainty, Random& random);

// A rectangle of about this share of the symbol, anywhere in it: nothing known of it (0), or another text's
// modules, surely.
void cover(vision::SoftGrid& grid, double share, float certainty, Random& random);

int between(int least, int most, Random& random);             // both included
std::string random_text(std::size_t length, Random& random);  // lower case, so that it takes a byte each

}  // namespace loadlight::vision_tests
