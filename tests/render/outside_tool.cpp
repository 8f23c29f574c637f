#include "render/outside_tool.h"

#include <stdlib.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace loadlight::tests {

Ran run(const std::string& command) {
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
  Ran ran;
  std::array<char, 65536> buffer;
  for (std::size_t got = 0; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    ran.output.append(buffer.data(), got);
  }
  const int status = pclose(pipe);
  ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return ran;
}

std::string run_or_throw(const std::string& command) {
  const Ran ran = run(command);
  if (ran.status != 0) throw std::runtime_error(command + " exited with " + std::to_string(ran.status));
  return ran.output;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream{text};
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

WorkFolder::WorkFolder() {
  std::string pattern = (std::filesystem::temp_directory_path() / "loadlight-render-XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("cannot make a folder for the test");
  folder_ = pattern;
}

WorkFolder::~WorkFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(folder_, ignored);
}

std::string WorkFolder::write(const std::string& name, std::string_view bytes) const {
  const std::string at = path(name);
  std::ofstream file{at, std::ios::binary};
  file << bytes;
  if (!file.flush()) throw std::runtime_error("cannot write " + at);
  return at;
}

}  // namespace loadlight::tests
