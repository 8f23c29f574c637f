// How large the modules of a package's symbol were printed.
#pragma once

#include <optional>

#include "loadlight/app/check_packages.h"

namespace loadlight::app {

// Millimetres; nothing when the record or the template does not tell.
std::optional<double> printed_module(const port::Unit& unit, const CheckRequest& templates,
                                     const core::PackageId& id);

}  // namespace loadlight::app
