// What names an office: a folder, or the address of a group's database.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight {

// "postgresql://…" or "postgres://…".
bool is_address(std::string_view office);

// BadValue for an address with a password in it: it would be shown, and kept, wherever the address is.
core::Result<void> check_address(const std::string& office);

// Where the office's files lie on this machine: the folder itself, or of an address one in the station's own folder.
std::string files_of(const std::string& office);

}  // namespace loadlight
