#include "child.h"

#include <sched.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>

namespace loadlight::store {
namespace {

constexpr unsigned kNobody = 65534;

std::string read_all(int descriptor) {
  std::string said;
  std::array<char, 256> some{};
  for (ssize_t got = 0; (got = read(descriptor, some.data(), some.size())) > 0;) {
    said.append(some.data(), static_cast<std::size_t>(got));
  }
  return said;
}

[[noreturn]] void answer(int descriptor, const std::function<bool()>& prepare,
                         const std::function<std::string()>& work) {
  if (!prepare()) _exit(1);
  const std::string said = work();
  _exit(write(descriptor, said.data(), said.size()) == static_cast<ssize_t>(said.size()) ? 0 : 1);
}

std::optional<std::string> in_child(const std::function<bool()>& prepare,
                                    const std::function<std::string()>& work) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) return std::nullopt;
  const pid_t child = fork();
  if (child == 0) answer(ends[1], prepare, work);
  close(ends[1]);
  std::string said = read_all(ends[0]);
  close(ends[0]);
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? std::optional{std::move(said)} : std::nullopt;
}

}  // namespace

std::optional<std::string> as_nobody(const std::function<std::string()>& work) {
  const auto give_up_rights = [] { return geteuid() != 0 || (setgid(kNobody) == 0 && setuid(kNobody) == 0); };
  return in_child(give_up_rights, work);
}

std::optional<std::string> on_small_disk(const std::string& folder, int kilobytes,
                                         const std::function<std::string()>& work) {
  const auto mount_disk = [&] {
    const std::string options = "size=" + std::to_string(kilobytes) + "k";
    return unshare(CLONE_NEWNS) == 0 && mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0 &&
           mount("none", folder.c_str(), "tmpfs", 0, options.c_str()) == 0;
  };
  return in_child(mount_disk, work);
}

}  // namespace loadlight::store
