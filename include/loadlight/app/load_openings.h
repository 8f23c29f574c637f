// Use case: what the next load of a sterilizer may be opened as.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/programs.h"
#include "loadlight/core/release_rules.h"

namespace loadlight::app {

struct ProgramChoice final {
  core::Program program;
  std::string name;  // as the office entered it; empty for a row of the program table
};

struct LoadOpenings final {
  core::LoadName next;                  // the lowest number reserved by labels, else the next one
  std::vector<ProgramChoice> programs;  // what open_load takes: the office's own first
  core::DailyTest daily_test = core::DailyTest::Missing;  // as a load with packages would start now
};
// CodeUnknown, CodeRetired. Also for a sterilizer that is out of service: it may run tests and retests.
core::Result<LoadOpenings> load_openings(const Ports& ports, const std::string& sterilizer);

}  // namespace loadlight::app
