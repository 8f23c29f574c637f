// Use cases: give the office another key, and show which keys it has. Never a key itself.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

struct AddedKey final {
  int number = 0;      // of the key that signs from now on, counted from 1
  bool found = false;  // it was there already without an event, of an attempt that was cut off
};
// LeadRequired. What was signed before still verifies. The key is in its file a moment before the event is on the
// record: should only the first come about, the next call records that key instead of adding another.
core::Result<AddedKey> add_key(const World& world, const std::string& office_folder, const Ports& ports,
                               std::string_view operator_code);

// One key of the office, by what the record tells of it.
struct KeyLine final {
  int number = 0;
  bool signs = false;                // the newest; every one verifies
  std::optional<core::Instant> at;  // when it was added; none: no event tells of it
  std::string operator_code;
};
core::Result<std::vector<KeyLine>> list_keys(const Ports& ports);

}  // namespace loadlight::app
