// Use case: read a sterilizer's own cycle log in as the mechanical evidence of a load.
#pragma once

#include <functional>
#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/core/cycle.h"
#include "loadlight/exchange/cycle_log.h"

namespace loadlight::app {

struct CycleLogRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string path;
  std::string mapping_name;
  std::string mapping;  // its text
  std::string why;      // needed when the load has a log already
};

struct CycleLogReply final {
  core::Load load;
  core::CycleFindings findings;
  exchange::LogSummary summary;
};

// How far reading has come, in bytes; false stops it.
using Progress = std::function<bool(std::uint64_t done, std::uint64_t total)>;

// Memory does not grow with the log, and the record is not locked while it is read. LoadWrongState before
// the load's end or after its decision, ResultDiffers without a reason, ProgramUnknown, BadCycleLog with
// what is wrong line by line, BadMapping; WrongUsage when it was stopped.
core::Result<CycleLogReply> read_cycle_log(const Ports& ports, const port::Files& files,
                                           const CycleLogRequest& request, const Progress& progress);

}  // namespace loadlight::app
