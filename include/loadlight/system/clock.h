// The machine's clock.
#pragma once

#include <memory>

#include "loadlight/port/clock.h"

namespace loadlight::system {

std::unique_ptr<port::Clock> make_system_clock();

}  // namespace loadlight::system
