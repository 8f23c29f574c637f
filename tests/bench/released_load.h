// A load as benchmarks fill records with it: run, judged by its readings and released, all at one moment.
#pragma once

#include "loadlight/core/load.h"

namespace loadlight::bench {

inline core::Load released_load(const core::LoadName& name, core::CivilDate day, core::Instant at) {
  core::Load load;
  load.name = name;
  load.state = core::LoadState::Released;
  load.program = "dynamic-132-wrapped";
  load.opened_at = load.started_at = load.finished_at = load.decided_at = at;
  load.process_date = day;
  load.run = name.number;
  load.decided_by = "MB";
  load.readings = core::Readings{132.4, 133.9, 4.5, 292, 22.0};
  return load;
}

}  // namespace loadlight::bench
