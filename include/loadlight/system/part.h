// Parts: leaves that are loaded only when a command needs them, so that a check at the chair does not wait
// for libraries that only printing or reading pictures uses.
#pragma once

#include <string>
#include <type_traits>

#include "loadlight/core/result.h"

namespace loadlight::system {

// The address of the C function `entry` of the part in `path`, which stays loaded until the process ends.
// PartUnavailable (details: part, why) when the file, a library it needs or the function is missing.
core::Result<void*> load_part(const std::string& path, const std::string& entry);

// The same as a function of a type that caller and part have agreed on; Function is that type or a pointer
// to it.
template <class Function>
core::Result<std::remove_pointer_t<Function>*> load_part_as(const std::string& path,
                                                            const std::string& entry) {
  auto address = load_part(path, entry);
  if (!address) return address.failure();
  return reinterpret_cast<std::remove_pointer_t<Function>*>(*address);
}

}  // namespace loadlight::system
