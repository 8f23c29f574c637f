// The log mappings there are: the names of templates/mappings.
#pragma once

#include <string>

#include "web/page_templates.h"

namespace loadlight::web {

// Sorted; empty when the folder cannot be read.
View mapping_names(const std::string& templates_folder);

}  // namespace loadlight::web
