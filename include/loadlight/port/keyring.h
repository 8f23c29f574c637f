// Port: the office's keys, which sign labels, and its source of randomness. Implemented by system.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace loadlight::port {

class Keyring {
 public:
  virtual ~Keyring() = default;

  // The authenticator of `signed_part` (core/payload.h) under the current key, the newest: 13 base32
  // characters, the first 65 bits of HMAC-SHA-256. Thread-safe.
  virtual std::string mac(std::string_view signed_part) const = 0;

  // True iff `authenticator` is what any key the office ever held makes of `signed_part`. Takes the
  // same time wherever the difference lies. Thread-safe.
  virtual bool verifies(std::string_view signed_part, std::string_view authenticator) const = 0;

  // The number of the key that signs, counted from 1. Thread-safe.
  virtual int current_key() const = 0;

  // Fills `out` from the system's cryptographic source. Thread-safe.
  virtual void fill_random(std::span<std::uint8_t> out) const = 0;
};

}  // namespace loadlight::port
