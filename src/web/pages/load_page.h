// What the pages about one load have in common.
#pragma once

#include <string>

#include "loadlight/app/release_load.h"
#include "web/visit.h"

namespace loadlight::web {

// As the office names them; the code where the record has no such row.
std::string contents_name(const app::Ports& ports, const std::string& code);

// Where another label is made in place of one that names another load.
std::string replace_link(const core::PackageId& package, const core::LoadName& load);

// The evidence about a load and the forms that take more of it. load_sections.cpp
View readings_section(const Visit& visit, const app::LoadView& load);
View indicators_section(const Visit& visit, const app::Ports& ports, const app::LoadView& load);
View biological_section(const Visit& visit, const app::Ports& ports, const app::LoadView& load);
View decision_section(const Visit& visit, const app::Ports& ports, const app::LoadView& load);

}  // namespace loadlight::web
