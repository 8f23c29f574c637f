#include "office_folder.h"

#include <cstdint>

#include "loadlight/system/folders.h"

namespace loadlight {
namespace {

constexpr std::size_t kLongestName = 80;

// FNV-1a: tells addresses apart that read alike once they are a file's name.
std::string short_mark(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325u;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  std::string mark;
  for (int shift = 28; shift >= 0; shift -= 4) mark += "0123456789abcdef"[(hash >> shift) & 15];
  return mark;
}

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '-';
}

std::string after_scheme(std::string_view address) {
  return std::string{address.substr(address.find("://") + 3)};
}

}  // namespace

bool is_address(std::string_view office) {
  return office.starts_with("postgresql://") || office.starts_with("postgres://");
}

core::Result<void> check_address(const std::string& office) {
  if (!is_address(office)) return {};
  const std::string rest = after_scheme(office);
  const std::string who = rest.substr(0, rest.find_first_of("@/?"));
  const bool named = rest.find('@') != std::string::npos && rest.find('@') < rest.find_first_of("/?");
  if ((named && who.find(':') != std::string::npos) || rest.find("password=") != std::string::npos) {
    return core::Failure{core::FailureCode::PasswordInAddress, {}, {}};
  }
  return {};
}

std::string files_of(const std::string& office) {
  if (!is_address(office)) return office;
  std::string name = after_scheme(office).substr(0, kLongestName);
  for (char& c : name) c = is_plain(c) ? c : '_';
  return system::station_folder() + "/" + name + "-" + short_mark(after_scheme(office));
}

}  // namespace loadlight
