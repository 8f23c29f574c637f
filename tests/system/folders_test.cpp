#include "loadlight/system/folders.h"

#include <stdlib.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <optional>

using namespace loadlight;

namespace {

// An environment variable set, or unset, for as long as this lives.
class Variable final {
 public:
  Variable(const char* name, const char* value) : name_(name) {
    if (const char* held = ::getenv(name)) before_ = held;
    set(value);
  }
  ~Variable() { set(before_ ? before_->c_str() : nullptr); }

 private:
  void set(const char* value) const {
    if (value != nullptr) {
      ::setenv(name_, value, 1);
    } else {
      ::unsetenv(name_);
    }
  }
  const char* name_;
  std::optional<std::string> before_;
};

std::string beside_this_program() {
  return std::filesystem::read_symlink("/proc/self/exe").parent_path().parent_path().string();
}

}  // namespace

TEST_CASE("The office is where LOADLIGHT_OFFICE says") {
  const Variable office{"LOADLIGHT_OFFICE", "/somewhere/office"};
  CHECK(system::default_office_folder() == "/somewhere/office");
}

TEST_CASE("Without it the office lies in the user's data folder") {
  const Variable office{"LOADLIGHT_OFFICE", ""};
  const Variable home{"HOME", "/homes/ann"};
  const Variable data{"XDG_DATA_HOME", nullptr};
  CHECK(system::default_office_folder() == "/homes/ann/.local/share/loadlight/office");
  const Variable absolute{"XDG_DATA_HOME", "/data"};
  CHECK(system::default_office_folder() == "/data/loadlight/office");
}

// XDG Base Directory Specification: a relative path is invalid and ignored.
TEST_CASE("A relative XDG_DATA_HOME is ignored") {
  const Variable office{"LOADLIGHT_OFFICE", nullptr};
  const Variable home{"HOME", "/homes/ann"};
  const Variable data{"XDG_DATA_HOME", "data"};
  CHECK(system::default_office_folder() == "/homes/ann/.local/share/loadlight/office");
}

TEST_CASE("Without HOME the office is still somewhere") {
  const Variable office{"LOADLIGHT_OFFICE", nullptr};
  const Variable home{"HOME", nullptr};
  const Variable data{"XDG_DATA_HOME", nullptr};
  const std::filesystem::path folder = system::default_office_folder();
  CHECK(folder.filename() == "office");
  CHECK(folder.is_absolute());
}

TEST_CASE("Templates, samples and parts are found from the program's own place or by a variable") {
  const Variable unset{"LOADLIGHT_TEMPLATES", nullptr};
  const Variable unset_too{"LOADLIGHT_SAMPLES", nullptr};
  CHECK(system::templates_folder() == beside_this_program() + "/share/loadlight");
  CHECK(system::samples_folder() == beside_this_program() + "/share/doc/loadlight/examples");
  const std::string part = system::part_path("render");
  CHECK(part.find(beside_this_program() + "/lib") == 0);
  CHECK(part.substr(part.size() - 20) == "/loadlight/render.so");
  const Variable asked{"LOADLIGHT_TEMPLATES", "/else/templates"};
  CHECK(system::templates_folder() == "/else/templates");
  const Variable asked_too{"LOADLIGHT_SAMPLES", "/else/samples"};
  CHECK(system::samples_folder() == "/else/samples");
}
