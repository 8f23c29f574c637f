#include "loadlight/system/private_files.h"

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <string_view>

namespace loadlight::system {
namespace {

constexpr std::string_view kOwn[] = {"keys.json", "pins.json", "printers.json", "authority-key.pem",
                                     "station-key.pem", "station.json"};

// The record's log and the copies beside it begin with its name.
bool is_own(const std::string& name) {
  return name.starts_with("record.") || std::find(std::begin(kOwn), std::end(kOwn), name) != std::end(kOwn);
}

bool is_exposed(const std::filesystem::path& file) {
  struct stat held {};
  return ::stat(file.c_str(), &held) == 0 && (held.st_mode & (S_IRWXG | S_IRWXO)) != 0;
}

}  // namespace

std::vector<std::string> exposed_files(const std::string& office_folder) {
  std::vector<std::string> names;
  std::error_code error;
  for (auto entry = std::filesystem::directory_iterator{office_folder, error};
       !error && entry != std::filesystem::directory_iterator{}; entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    if (is_own(name) && is_exposed(entry->path())) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace loadlight::system
