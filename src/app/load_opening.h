// Under which number and with which programs a load of a sterilizer can be opened.
#pragma once

#include <string>

#include "loadlight/app/ports.h"
#include "loadlight/core/programs.h"

namespace loadlight::app {

// The lowest number reserved by labels, else the next one.
core::Result<core::LoadName> next_load_name(const port::Unit& unit, const std::string& sterilizer);

// The program as it governs this sterilizer's loads, or why it cannot be run: ProgramUnknown,
// ProgramNotAllowed, CodeRetired, ProgramNotAccepted.
core::Result<core::Program> runnable_program(const port::Unit& unit, const core::Sterilizer& sterilizer,
                                             const std::string& code);

}  // namespace loadlight::app
