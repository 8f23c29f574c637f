// An open file descriptor that closes itself, and the failures of the calls that use one.
#pragma once

#include <string>
#include <utility>

#include "loadlight/core/failure.h"

namespace loadlight::system {

class Descriptor final {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() { close(); }
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor& operator=(Descriptor&&) = delete;
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  bool open() const { return number_ >= 0; }
  int number() const { return number_; }
  // False when the system reports, only now, that what was written did not arrive.
  bool close();

 private:
  int number_;  // -1 when closed
};

// A failure with the details path and why, the latter a code of the catalogue ("detail.why.<code>") for
// the errno value `error`.
core::Failure unreadable(const std::string& path, int error);
core::Failure unwritable(const std::string& path, int error);  // DiskFull when that is the cause

}  // namespace loadlight::system
