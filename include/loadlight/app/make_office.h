// Use case: make an office.
#pragma once

#include <optional>
#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct OfficeRequest final {
  std::string name;
  std::string zone;
  std::string profile = "us-cdc-2003";
  std::string language = "en";
  std::optional<int> shelf_life_days;  // 1 to 3650; none: event-related
};

// Writes the office's settings into an empty record. BadValue for a profile or shelf life that is none.
core::Result<core::Office> make_office(const Ports& ports, const OfficeRequest& request);

}  // namespace loadlight::app
