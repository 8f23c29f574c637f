// Hears of the changes that any station writes into an office's record in a database.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "loadlight/port/change_listener.h"

namespace loadlight::store {

// `told` is called from a thread of the listener's own, once for any number of changes close together, and whenever it
// begins or ceases to hear; it must not end the listener. Holds one connection. Never null.
std::unique_ptr<port::ChangeListener> listen_for_changes(const std::string& address, std::function<void()> told);

}  // namespace loadlight::store
