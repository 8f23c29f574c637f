// Which of an office's files are for their owner alone, and whether they are.
#pragma once

#include <string>
#include <vector>

namespace loadlight::system {

// Names of the office's keys, PINs, printers and record, its copies included, whose modes let others than their
// owner read or write them, whatever the folder's own mode is; by name.
std::vector<std::string> exposed_files(const std::string& office_folder);

}  // namespace loadlight::system
