// A folder of one's own, gone with everything in it at the end.
#pragma once

#include <string>

namespace loadlight::store {

class TemporaryFolder final {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  const std::string& path() const { return path_; }
  std::string file(const std::string& name) const { return path_ + "/" + name; }
  std::string record() const { return file("record.db"); }

 private:
  std::string path_;
};

}  // namespace loadlight::store
