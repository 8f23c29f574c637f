// The command line: what a person or a script types, turned into use cases, and their replies turned into
// lines. The command contract is described in the manual page.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/world.h"

namespace loadlight::cli {

using app::OfficeLeaves;
using app::PrintingLeaves;
using app::SeeingLeaves;
using app::World;

// Runs one command; the exit status by the contract: 0, 1, 2, 10 or 20. Throws nothing.
int run(const std::vector<std::string>& arguments, const World& world);

}  // namespace loadlight::cli
