// Whole files on the machine's disk.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

#include "loadlight/core/result.h"
#include "loadlight/port/files.h"

namespace loadlight::system {

std::unique_ptr<port::Files> make_files();

// What port::Files promises, for those who need no port.
core::Result<std::string> read_whole_file(const std::string& path, std::size_t limit);
core::Result<void> write_file_atomically(const std::string& path, std::string_view bytes);

}  // namespace loadlight::system
