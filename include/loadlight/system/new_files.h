// Files and folders that come into being as a whole (port/new_files.h).
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/new_files.h"

namespace loadlight::system {

// FileExists when there is something in its place; FileUnwritable or DiskFull.
core::Result<std::unique_ptr<port::NewFile>> make_new_file(const std::string& path);
core::Result<std::unique_ptr<port::NewFolder>> make_new_folder(const std::string& path);

}  // namespace loadlight::system
