// The station as a part that is loaded when it is served.
#pragma once

#include <memory>

#include "loadlight/app/world.h"
#include "loadlight/core/result.h"

namespace loadlight::web {

// A station that answers, until it is destroyed.
class Serving {
 public:
  virtual ~Serving() = default;
};

struct Part final {
  // StationUnavailable (details: port, why), CertificatesUnusable, WordsUnreadable. `world` must live longer.
  core::Result<std::unique_ptr<Serving>> (*start)(const app::World& world,
                                                  const app::StationSettings& settings);
};

// The part's file is web.so and this is its only visible function; never null, never throws.
inline constexpr char kPartEntry[] = "loadlight_web_part";
using PartEntry = const Part*();

}  // namespace loadlight::web
