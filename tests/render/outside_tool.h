// Runs programs of the system and keeps their files in a folder that goes away with its owner.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace loadlight::tests {

struct Ran final {
  int status = -1;  // the exit status; 127 when there is no such program
  std::string output;
};

// Standard output of `command`, run by the shell; standard error goes where this program's goes.
Ran run(const std::string& command);

// As above; throws std::runtime_error unless it exits with 0, so that a missing tool fails the test.
std::string run_or_throw(const std::string& command);

std::vector<std::string> lines_of(const std::string& text);

class WorkFolder final {
 public:
  WorkFolder();
  ~WorkFolder();
  WorkFolder(const WorkFolder&) = delete;
  WorkFolder& operator=(const WorkFolder&) = delete;

  std::string path(const std::string& name) const { return folder_ + "/" + name; }
  // Writes `bytes` to a file of this folder and returns its path.
  std::string write(const std::string& name, std::string_view bytes) const;

 private:
  std::string folder_;
};

}  // namespace loadlight::tests
