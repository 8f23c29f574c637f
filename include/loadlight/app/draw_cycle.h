// Use case: a load's cycle log as a drawing for a screen.
#pragma once

#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/report/words.h"

namespace loadlight::app {

// SVG 1.1. LoadUnknown; CycleLogMissing when the load has no cycle log; RecordDamaged when what the
// record holds of it cannot be read.
core::Result<std::string> cycle_drawing(const Ports& ports, const report::Words& words, const core::LoadName& name);

}  // namespace loadlight::app
