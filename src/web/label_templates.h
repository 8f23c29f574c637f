// The label templates there are.
#pragma once

#include <vector>

#include "loadlight/app/world.h"
#include "loadlight/label/template.h"

namespace loadlight::web {

// Those of templates/labels that are for `subject` and whole, by name.
std::vector<label::LabelTemplate> label_templates(const app::World& world, label::Subject subject);

}  // namespace loadlight::web
