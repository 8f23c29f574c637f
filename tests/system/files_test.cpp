#include "loadlight/system/files.h"

#include <sys/resource.h>
#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <csignal>
#include <filesystem>

#include "scratch_folder.h"
#include "system/descriptor.h"

using namespace loadlight;
using core::FailureCode;
using Names = std::vector<std::string>;

namespace {

constexpr std::size_t kLimit = 1 << 20;

core::Details details(const std::string& path, const std::string& why) {
  return {{"path", path}, {"why", why}};
}

void check_unwritable(const std::string& path, const std::string& why) {
  const auto written = system::write_file_atomically(path, "new");
  REQUIRE_FALSE(written);
  CHECK(written.failure().code == FailureCode::FileUnwritable);
  CHECK(written.failure().details == details(path, why));
}

void check_unreadable(const std::string& path, std::size_t limit, const std::string& why) {
  const auto read = system::read_whole_file(path, limit);
  REQUIRE_FALSE(read);
  CHECK(read.failure().code == FailureCode::FileUnreadable);
  CHECK(read.failure().details == details(path, why));
}

// While it lives, no file may grow beyond `bytes`: a full disk as far as a writer can tell.
class FileSizeLimit final {
 public:
  explicit FileSizeLimit(rlim_t bytes) {
    ::getrlimit(RLIMIT_FSIZE, &before_);
    const rlimit lowered{bytes, before_.rlim_max};
    former_ = std::signal(SIGXFSZ, SIG_IGN);
    ::setrlimit(RLIMIT_FSIZE, &lowered);
  }
  ~FileSizeLimit() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, former_);
  }

 private:
  rlimit before_{};
  void (*former_)(int) = nullptr;
};

}  // namespace

TEST_CASE("What is written is read back, and nothing lies beside it") {
  const ScratchFolder folder;
  const auto files = system::make_files();
  for (const std::string& bytes : {std::string{}, std::string{"a\0b", 3}, std::string(300'000, 'x')}) {
    REQUIRE(files->write(folder.path("file"), bytes));
    const auto read = files->read(folder.path("file"), kLimit);
    REQUIRE(read);
    CHECK(*read == bytes);
    CHECK(folder.names() == Names{"file"});
  }
}

TEST_CASE("A file of exactly the limit is read, one byte more is not") {
  const ScratchFolder folder;
  REQUIRE(system::write_file_atomically(folder.path("file"), std::string(100'000, 'x')));
  CHECK(system::read_whole_file(folder.path("file"), 100'000));
  check_unreadable(folder.path("file"), 99'999, "too-large");
  check_unreadable("/dev/zero", 1000, "too-large");
}

TEST_CASE("What cannot be read is told with its path and why") {
  const ScratchFolder folder;
  check_unreadable(folder.path("absent"), kLimit, "absent");
  check_unreadable(folder.path(), kLimit, "is-folder");
  REQUIRE(system::write_file_atomically(folder.path("file"), "x"));
  check_unreadable(folder.path("file/below"), kLimit, "no-folder");
  check_unreadable("", kLimit, "absent");
}

TEST_CASE("Folders, devices and places that do not exist are not written to") {
  const ScratchFolder folder;
  check_unwritable(folder.path(), "is-folder");
  check_unwritable("/dev/full", "not-a-file");
  check_unwritable("/dev/null", "not-a-file");
  check_unwritable(folder.path("absent/file"), "absent");
  check_unwritable(folder.path(std::string(300, 'n')), "name-too-long");
  CHECK(folder.names().empty());
}

TEST_CASE("A write that fails half way leaves the old file and nothing else") {
  const ScratchFolder folder;
  const std::string path = folder.path("file");
  REQUIRE(system::write_file_atomically(path, "old"));
  {
    const FileSizeLimit limit{1000};
    const auto written = system::write_file_atomically(path, std::string(5000, 'x'));
    REQUIRE_FALSE(written);
    CHECK(written.failure().details == details(path, "too-large"));
  }
  CHECK(*system::read_whole_file(path, kLimit) == "old");
  CHECK(folder.names() == Names{"file"});
}

TEST_CASE("A full disk is told from every other failure") {
  CHECK(system::unwritable("p", ENOSPC).code == FailureCode::DiskFull);
  CHECK(system::unwritable("p", EDQUOT).code == FailureCode::DiskFull);
  CHECK(system::unwritable("p", EROFS).code == FailureCode::FileUnwritable);
  CHECK(system::unwritable("p", EIO).details == details("p", "device-error"));
}

TEST_CASE("Through a link the file it names is replaced, and the link stays") {
  const ScratchFolder folder;
  REQUIRE(system::write_file_atomically(folder.path("file"), "old"));
  std::filesystem::create_symlink("file", folder.path("link"));
  REQUIRE(system::write_file_atomically(folder.path("link"), "new"));
  CHECK(std::filesystem::is_symlink(folder.path("link")));
  CHECK(*system::read_whole_file(folder.path("file"), kLimit) == "new");
}

TEST_CASE("What was put in place is taken back, a link's file and not the link, and no folder") {
  const ScratchFolder folder;
  const auto files = system::make_files();
  REQUIRE(files->write(folder.path("file"), "old"));
  std::filesystem::create_symlink("file", folder.path("link"));
  std::filesystem::create_directory(folder.path("folder"));
  REQUIRE(files->write(folder.path("link"), "new"));
  files->take_back(folder.path("link"));
  files->take_back(folder.path("folder"));
  files->take_back(folder.path("absent"));
  CHECK(folder.names() == Names{"folder", "link"});
}

TEST_CASE("A new file is for its owner alone whatever the umask") {
  const ScratchFolder folder;
  const mode_t before = ::umask(0);
  REQUIRE(system::write_file_atomically(folder.path("file"), "x"));
  ::umask(before);
  struct stat held {};
  REQUIRE(::stat(folder.path("file").c_str(), &held) == 0);
  CHECK((held.st_mode & 0777) == 0600);
}

TEST_CASE("A path without a folder is written in the current one") {
  const ScratchFolder folder;
  const auto before = std::filesystem::current_path();
  std::filesystem::current_path(folder.path());
  const auto written = system::write_file_atomically("plain", "x");
  std::filesystem::current_path(before);
  CHECK(written);
  CHECK(folder.names() == Names{"plain"});
}
