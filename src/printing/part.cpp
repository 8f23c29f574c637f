#include "loadlight/printing/part.h"

#include "loadlight/printing/printers.h"

namespace {

constexpr loadlight::printing::Part kPart{&loadlight::printing::make_printers};

}  // namespace

extern "C" __attribute__((visibility("default"))) const loadlight::printing::Part* loadlight_printing_part() {
  return &kPart;
}
