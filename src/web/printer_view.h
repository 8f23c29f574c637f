// How a printer and a job stand, in words.
#pragma once

#include "loadlight/port/printer.h"
#include "web/visit.h"

namespace loadlight::web {

// "activity", "text" (its words), "troubles" (each "text" and "warning"), "any_troubles", "ready" (it prints what
// it is sent now).
View printer_view(const Visit& visit, const port::PrinterState& state);

// "state", "text", "ended". `ready` as above, of its printer.
View job_view(const Visit& visit, port::JobState state, bool ready);

}  // namespace loadlight::web
