#include "descriptor.h"

#include <unistd.h>

#include <array>
#include <cerrno>
#include <string_view>

namespace loadlight::system {
namespace {

struct Cause final {
  int error;
  std::string_view code;
};

// What the system says went wrong, as far as a person can act on it.
constexpr std::array<Cause, 14> kCauses{{
    {ENOENT, "absent"},
    {ENOTDIR, "no-folder"},
    {EACCES, "forbidden"},
    {EPERM, "forbidden"},
    {EROFS, "read-only"},
    {EISDIR, "is-folder"},
    {ENOSPC, "disk-full"},
    {EDQUOT, "disk-full"},
    {EFBIG, "too-large"},
    {ENAMETOOLONG, "name-too-long"},
    {ELOOP, "link-loop"},
    {EMFILE, "too-many-open"},
    {ENFILE, "too-many-open"},
    {EINVAL, "not-a-file"},
}};

std::string cause_of(int error) {
  for (const Cause& cause : kCauses) {
    if (cause.error == error) return std::string{cause.code};
  }
  return "device-error";
}

core::Failure file_failure(core::FailureCode code, const std::string& path, int error) {
  return {code, {{"path", path}, {"why", cause_of(error)}}, {}};
}

}  // namespace

bool Descriptor::close() {
  const int number = std::exchange(number_, -1);
  return number < 0 || ::close(number) == 0;
}

core::Failure unreadable(const std::string& path, int error) {
  return file_failure(core::FailureCode::FileUnreadable, path, error);
}

core::Failure unwritable(const std::string& path, int error) {
  const bool full = error == ENOSPC || error == EDQUOT;
  return file_failure(full ? core::FailureCode::DiskFull : core::FailureCode::FileUnwritable, path, error);
}

}  // namespace loadlight::system
