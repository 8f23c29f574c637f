// The front door of printing: label printers by IPP (libcups, no CUPS daemon).
#pragma once

#include <memory>

#include "loadlight/port/printer.h"

namespace loadlight::printing {

std::unique_ptr<port::Printers> make_printers();

}  // namespace loadlight::printing
