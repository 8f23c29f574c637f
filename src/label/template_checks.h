// What must hold for a template as a whole.
#pragma once

#include <optional>
#include <string_view>

#include "label/template_statement.h"
#include "loadlight/label/template.h"

namespace loadlight::label {

// Slack for sums of decimal fractions, in millimetres; a thousandth of a printer's dot or less.
inline constexpr double kSlackMm = 1e-6;

std::string_view to_text(TemplateProblem problem);

// The first rule the template breaks, if any.
std::optional<ProblemAt> check_template(const LabelTemplate& made);

}  // namespace loadlight::label
