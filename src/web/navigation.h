// The station's places, as they stand in the navigation of every page.
#pragma once

#include <string>

#include "web/page_templates.h"

namespace loadlight::web {

struct Visit;

View navigation_of(const Visit& visit, const std::string& at);

}  // namespace loadlight::web
