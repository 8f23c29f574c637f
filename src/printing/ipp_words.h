// IPP's keywords and numbers as our own. Private to printing.
#pragma once

#include <optional>
#include <string_view>

#include "loadlight/port/printer.h"

namespace loadlight::printing {

// A value of printer-state-reasons: a keyword with its severity, "-report", "-warning" or "-error" (RFC 8011,
// 5.4.12; without one it is an error). Nothing for "none" and for what is only reported.
std::optional<port::PrinterTrouble> trouble_of(std::string_view reason);

// printer-state and job-state (RFC 8011, 5.4.11 and 5.3.7).
port::PrinterActivity activity_of(int printer_state);
port::JobState job_state_of(int job_state);

}  // namespace loadlight::printing
