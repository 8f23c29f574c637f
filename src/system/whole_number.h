// A number of a JSON file that is to be whole and within bounds, both included. None that only would become one when
// it is cut or wraps round is taken for it.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>

namespace loadlight::system {

template <class Json>
std::optional<std::int64_t> whole_number(const Json& value, std::int64_t least, std::int64_t most) {
  constexpr std::uint64_t kLargest = std::numeric_limits<std::int64_t>::max();
  if (!value.is_number_integer()) return std::nullopt;
  if (value.is_number_unsigned() && value.template get<std::uint64_t>() > kLargest) return std::nullopt;
  const auto number = value.template get<std::int64_t>();
  return number >= least && number <= most ? std::optional{number} : std::nullopt;
}

}  // namespace loadlight::system
