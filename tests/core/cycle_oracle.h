// The criteria of a cycle a second time, from their wording, over all samples at once and without a thought
// for speed; and random cycles to try both on.
#pragma once

#include <map>
#include <random>
#include <string>
#include <vector>

#include "loadlight/core/cycle_criteria.h"

namespace loadlight::core {

struct ExpectedLine final {
  Standing standing = Standing::Unknown;
  std::optional<double> measured;
};

struct RandomCycle final {
  CycleSettings settings;
  CycleLimits limits;
  std::vector<CycleSample> samples;  // in order
};

RandomCycle random_cycle(std::mt19937& random);
std::map<std::string, ExpectedLine> expected_lines(const RandomCycle& cycle);

}  // namespace loadlight::core
