// Work done in a process of its own: as another user, or with a disk of another size.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "loadlight/core/failure.h"

namespace loadlight::store {

// What `work` says in a child that has given up root's rights; nothing when there is no such child.
std::optional<std::string> as_nobody(const std::function<std::string()>& work);

// What `work` says in a child for which `folder` is an empty disk of `kilobytes`; nothing when this
// machine does not let us mount one.
std::optional<std::string> on_small_disk(const std::string& folder, int kilobytes,
                                         const std::function<std::string()>& work);

}  // namespace loadlight::store
