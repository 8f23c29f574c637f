#include "loadlight/system/folders.h"

#include <pwd.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <filesystem>

#include "descriptor.h"

namespace loadlight::system {
namespace {

namespace fs = std::filesystem;

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr ? value : "";
}

std::string home_folder() {
  if (auto home = variable("HOME"); !home.empty()) return home;
  const passwd* entry = ::getpwuid(::getuid());
  return entry != nullptr && entry->pw_dir != nullptr ? entry->pw_dir : ".";
}

// A relative $XDG_DATA_HOME is ignored, as the XDG base directory specification asks; likewise for others.
fs::path data_home() {
  const fs::path asked = variable("XDG_DATA_HOME");
  return asked.is_absolute() ? asked : fs::path{home_folder()} / ".local" / "share";
}
fs::path state_home() {
  const fs::path asked = variable("XDG_STATE_HOME");
  return asked.is_absolute() ? asked : fs::path{home_folder()} / ".local" / "state";
}

std::string beside_program(std::string_view way) {
  std::error_code unknown;
  const fs::path program = fs::read_symlink("/proc/self/exe", unknown);
  return (program.parent_path() / way).lexically_normal().string();
}

}  // namespace

std::string default_office_folder() {
  if (auto asked = variable("LOADLIGHT_OFFICE"); !asked.empty()) return asked;
  return (data_home() / "loadlight" / "office").string();
}

std::string station_folder() {
  if (auto asked = variable("LOADLIGHT_STATION"); !asked.empty()) return asked;
  return (state_home() / "loadlight").string();
}

core::Result<void> make_station_folder(const std::string& folder) {
  std::error_code error;
  if (fs::is_directory(folder, error)) return {};
  const fs::path home = home_folder();
  const bool in_home = folder.starts_with(home.string() + "/");
  if (in_home && !fs::is_directory(home, error)) return unwritable(home.string(), ENOENT);
  fs::create_directories(fs::path{folder}.parent_path(), error);
  if (error) return unwritable(folder, error.value());
  if (::mkdir(folder.c_str(), S_IRWXU) != 0 && errno != EEXIST) return unwritable(folder, errno);
  return {};
}

std::string templates_folder() {
  if (auto asked = variable("LOADLIGHT_TEMPLATES"); !asked.empty()) return asked;
  return beside_program(LOADLIGHT_TEMPLATES_FROM_PROGRAM);
}

std::string samples_folder() {
  if (auto asked = variable("LOADLIGHT_SAMPLES"); !asked.empty()) return asked;
  return beside_program(LOADLIGHT_SAMPLES_FROM_PROGRAM);
}

std::string part_path(std::string_view name) {
  return beside_program(LOADLIGHT_PARTS_FROM_PROGRAM) + "/" + std::string{name} + ".so";
}

}  // namespace loadlight::system
