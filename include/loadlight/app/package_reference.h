// A package as people and scanners name it: its id, typed, or the whole text of its label.
#pragma once

#include <string_view>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

// BadPackageId when it is neither; LabelNotAuthentic for a label that no key of the office made.
core::Result<core::PackageId> package_id_of(const Ports& ports, std::string_view reference);

// The packages on record, in the order given. PackageUnknown for one that is not; BadValue for one named
// twice.
core::Result<std::vector<core::Package>> find_packages(const Ports& ports, const port::Unit& unit,
                                                       const std::vector<std::string>& references);

}  // namespace loadlight::app
