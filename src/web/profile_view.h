// How profiles and their values are shown: what each means, and where it comes from.
#pragma once

#include <string_view>

#include "loadlight/app/set_profile.h"
#include "web/visit.h"

namespace loadlight::web {

// All profiles to choose from, each with its values.
View profiles_view(const Visit& visit, std::string_view chosen);

// One value: "name", "meaning", "value", "source", "own".
View profile_value_view(const Visit& visit, const app::ProfileLine& line);

}  // namespace loadlight::web
