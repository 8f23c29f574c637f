// A station that listens.
#pragma once

#include <memory>

#include "loadlight/web/part.h"

namespace loadlight::web {

core::Result<std::unique_ptr<Serving>> start_serving(const app::World& world,
                                                     const app::StationSettings& settings);

}  // namespace loadlight::web
