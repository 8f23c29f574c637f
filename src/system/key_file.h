// The grammar of keys.json (loadlight/system/keyring.h).
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/dates.h"

namespace loadlight::system {

inline constexpr std::size_t kKeyBytes = 32;

struct OfficeKey final {
  int id = 0;  // 1, 2, 3, ...
  core::Instant made_at;
  std::array<std::uint8_t, kKeyBytes> secret{};
};

std::string print_keys(const std::vector<OfficeKey>& keys);

// Nothing unless `text` is exactly such a list, with at least one key.
std::optional<std::vector<OfficeKey>> parse_keys(std::string_view text);

}  // namespace loadlight::system
