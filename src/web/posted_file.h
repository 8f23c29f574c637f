// A file that a browser sent in a request's body, for a use case that reads files.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>

#include "loadlight/port/files.h"

namespace loadlight::web {

// There is one file, whatever it is called. The bytes must outlive it.
class PostedFile final : public port::Files {
 public:
  explicit PostedFile(std::string_view bytes) : bytes_(bytes) {}

  core::Result<std::string> read(const std::string& path, std::size_t limit) const override {
    if (bytes_.size() > limit) {
      return core::Failure{core::FailureCode::FileUnreadable, {{"path", path}, {"why", "too-large"}}, {}};
    }
    return std::string{bytes_};
  }

  core::Result<void> each_chunk(const std::string&,
                                const std::function<bool(const Chunk&)>& take) const override {
    constexpr std::size_t kChunk = 256u << 10;
    for (std::size_t at = 0; at < bytes_.size(); at += kChunk) {
      if (!take({bytes_.substr(at, kChunk), at, bytes_.size()})) return {};
    }
    return {};
  }

  core::Result<void> write(const std::string& path, std::string_view) const override {
    return core::Failure{core::FailureCode::FileUnwritable, {{"path", path}, {"why", "read-only"}}, {}};
  }

 private:
  std::string_view bytes_;
};

// A file's name as a browser told it: its last part, short and on one line.
inline std::string plain_file_name(std::string_view told) {
  told.remove_prefix(std::min(told.find_last_of("/\\") + 1, told.size()));
  std::size_t length = std::min<std::size_t>(told.size(), 100);
  while (length < told.size() && length > 0 && (static_cast<unsigned char>(told[length]) & 0xc0) == 0x80)
    --length;
  std::string name{told.substr(0, length)};
  for (char& c : name) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  }
  return name.empty() ? "log" : name;
}

}  // namespace loadlight::web
