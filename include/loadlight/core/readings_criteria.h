// Typed readings against what their program asks, in the lines that a cycle log is judged by
// (cycle_criteria.h). What only a log can show has no line.
#pragma once

#include <vector>

#include "loadlight/core/cycle_criteria.h"
#include "loadlight/core/load.h"

namespace loadlight::core {

// Every line is Unknown when a value cannot be one. No sensor margin is asked: the machine showed these
// values, and a log is judged more strictly.
std::vector<CriterionResult> judge_readings(const Readings& readings, const CycleLimits& limits);

}  // namespace loadlight::core
