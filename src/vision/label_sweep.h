// Reads a sweep label by label: what was read is carried on by the motion, what was not is tried again.
#pragma once

#include <memory>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// `reader` is asked for frames that stand apart, and for labels about to leave unread; it must outlive the
// sweep.
std::unique_ptr<port::Sweep> make_label_sweep(const port::SymbolReader& reader,
                                              const port::SweepOptions& options);

}  // namespace loadlight::vision
