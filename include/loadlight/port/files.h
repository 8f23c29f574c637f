// Port: whole files, as a person names them. Implemented by system.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::port {

class Files {
 public:
  virtual ~Files() = default;

  // The file's bytes. FileUnreadable (details: path, why) when it is absent, a folder, forbidden or longer
  // than `limit` bytes.
  virtual core::Result<std::string> read(const std::string& path, std::size_t limit) const = 0;

  // The file's bytes in order, in chunks of a size of its own; `take` gets a chunk with how many bytes came
  // before it and how many the file holds in all, and says false to stop. FileUnreadable as for read().
  struct Chunk final {
    std::string_view bytes;
    std::uint64_t before = 0;
    std::uint64_t total = 0;  // 0: not known
  };
  virtual core::Result<void> each_chunk(const std::string& path,
                                        const std::function<bool(const Chunk&)>& take) const = 0;

  // Puts `bytes` in place as a whole, replacing what was there: after a failure or a power cut the path
  // holds either the old file or the new one. FileUnwritable or DiskFull (details: path, why).
  virtual core::Result<void> write(const std::string& path, std::string_view bytes) const = 0;
  // Takes away what write() put in place, when what it belongs to did not come about. Where nothing is put
  // anywhere, there is nothing to do.
  virtual void take_back(const std::string& path) const { static_cast<void>(path); }
};

}  // namespace loadlight::port
