// Several files as one: a tar archive (POSIX.1-1988, "ustar"), which every system unpacks. Made and read piece by
// piece: a file of any size takes no memory.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"

namespace loadlight::exchange {

struct ArchivedFile final {
  std::string path;  // ASCII, relative, at most 100 bytes
  std::string bytes;
};

// Readable and writable by their owner alone once they are unpacked. BadValue for a path that does not fit.
core::Result<std::string> make_archive(const std::vector<ArchivedFile>& files, core::Instant made);

// The same by pieces: a header, the file's bytes and their padding for each file, and the end.
core::Result<std::string> archive_header(std::string_view path, std::uint64_t size, core::Instant made);
std::string archive_padding(std::uint64_t size);
std::string archive_end();

// What an archive holds, as its bytes come in. Takes plain files alone, in folders of no name.
class ArchiveReader final {
 public:
  // A file begins; its bytes follow in order. What either refuses ends the reading.
  using Begins = std::function<core::Result<void>(const std::string& name, std::uint64_t size)>;
  using Takes = std::function<core::Result<void>(std::string_view bytes)>;

  ArchiveReader(Begins begins, Takes takes) : begins_(std::move(begins)), takes_(std::move(takes)) {}

  // BackupUnreadable (details: why): malformed, or not-a-file for what is no plain file.
  core::Result<void> feed(std::string_view bytes);
  // Once all were fed: cut-short when the archive's end did not come.
  core::Result<void> finish() const;

 private:
  core::Result<void> read_header();

  Begins begins_;
  Takes takes_;
  std::string block_;           // the part of a header that has come
  std::uint64_t left_ = 0;      // bytes of the file that are to come
  std::uint64_t padding_ = 0;   // bytes to skip behind it
  bool ended_ = false;          // what follows says nothing
};

}  // namespace loadlight::exchange
