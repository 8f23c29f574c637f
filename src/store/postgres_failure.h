// What PostgreSQL reports, as failures of ours: the one place that knows its codes.
#pragma once

#include <string_view>

#include "loadlight/core/failure.h"

namespace loadlight::store {

// `state` is the five letters of SQLSTATE, empty when the server said nothing more. Details: path, why.
core::Failure postgres_failure(std::string_view state, std::string_view place, std::string_view message);

}  // namespace loadlight::store
