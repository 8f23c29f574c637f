// What a cycle log showed, as text for the record: one line a fact, the shortest decimals that read back as
// the same number. Curves are kept apart: they are for drawing and nothing is judged by them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/cycle.h"

namespace loadlight::core {

// Everything but the curve.
std::string findings_text(const CycleFindings& findings);
// Nothing unless it is, to the letter, what findings_text() writes: a record that was altered has no
// findings, and what has none holds.
std::optional<CycleFindings> parse_findings(std::string_view text);

std::string curve_text(const std::vector<CurvePoint>& curve);
std::optional<std::vector<CurvePoint>> parse_curve(std::string_view text);

}  // namespace loadlight::core
