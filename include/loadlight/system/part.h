// Parts: leaves that are loaded only when a command needs them, so that a check at the chair does not wait
// for libraries that only printing or reading pictures uses.
#pragma once

#include <string>

#include "loadlight/core/result.h"

namespace loadlight::system {

// The address of the C function `entry` of the part in `path`, which stays loaded until the process ends.
// PartUnavailable (details: part, why) when the file, a library it needs or the function is missing.
core::Result<void*> load_part(const std::string& path, const std::string& entry);

// The same as a function of a type that caller and part have agreed on.
template <class Function>
core::Result<Function*> load_part_as(const std::string& path, const std::string& entry) {
  auto address = load_part(path, entry);
  if (!address) return address.failure();
  return reinterpret_cast<Function*>(*address);
}

}  // namespace loadlight::system
