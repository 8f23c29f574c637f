// Port: files and folders that come into being as a whole or not at all, private to their user. Implemented by
// system.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::port {

// Under another name beside its place until it is put there; one that goes before is gone.
class NewFile {
 public:
  virtual ~NewFile() = default;

  // FileUnwritable or DiskFull (details: path, why), as all here.
  virtual core::Result<void> append(std::string_view bytes) = 0;
  // For good, and never in the place of another: FileExists.
  virtual core::Result<void> put_in_place() = 0;
  // Once it was put in place.
  virtual void take_back() = 0;
};

// Likewise, with all that was laid in it.
class NewFolder {
 public:
  virtual ~NewFolder() = default;

  virtual const std::string& path() const = 0;  // while it is being filled
  // Where nothing is, or an empty folder: FileExists.
  virtual core::Result<void> put_in_place() = 0;
};

}  // namespace loadlight::port
