// Label printers as a part that is loaded when one is spoken to.
#pragma once

#include <memory>

#include "loadlight/port/printer.h"

namespace loadlight::printing {

struct Part final {
  std::unique_ptr<port::Printers> (*make_printers)();
};

// The part's file is printing.so and this is its only visible function; never null, never throws.
inline constexpr char kPartEntry[] = "loadlight_printing_part";
using PartEntry = const Part*();

}  // namespace loadlight::printing
