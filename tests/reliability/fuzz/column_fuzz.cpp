// A column's value as a record holds it that somebody altered. The first byte picks the type, the rest is the value.
//
// Promises: what is decoded is encoded as the same value, so that verification cannot miss a change that reading
// smooths over; lists are taken in one spelling only.
#include <algorithm>
#include <cmath>
#include <cstring>

#include "fuzz_input.h"
#include "store/column_codec.h"

namespace loadlight::fuzz {
namespace {

using namespace store;

template <class M>
void try_as(const SqlValue& value, M blank) {
  M read = blank;
  if (!decode(value, read)) return;
  if constexpr (std::is_same_v<M, core::Instant>) promise(!core::to_text(read).empty(), "a time can be told");
  promise(encode(read) == value, "a value is written as it was read");
}

SqlValue number_in(std::string_view text) {
  std::int64_t number = 0;
  std::memcpy(&number, text.data(), std::min(sizeof number, text.size()));
  return number;
}

SqlValue real_in(std::string_view text) {
  double number = 0;
  std::memcpy(&number, text.data(), std::min(sizeof number, text.size()));
  return std::isnan(number) ? 0.5 : number;  // the database keeps no other
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  fuzz::Input input{data, size};
  const std::size_t kind = input.choice(4);
  const store::SqlValue value = kind == 0   ? fuzz::number_in(input.rest())
                                : kind == 1 ? fuzz::real_in(input.rest())
                                            : store::SqlValue{std::string{input.rest()}};
  fuzz::try_as(value, std::string{});
  fuzz::try_as(value, false);
  fuzz::try_as(value, 0);
  fuzz::try_as(value, std::int64_t{0});
  fuzz::try_as(value, core::Instant{});
  fuzz::try_as(value, *core::CivilDate::from(2000, 1, 1));
  fuzz::try_as(value, *core::PackageId::parse_exact("ABCDEFGHJ2"));
  fuzz::try_as(value, core::ErrorCorrection::M);
  fuzz::try_as(value, std::vector<std::string>{});
  fuzz::try_as(value, std::vector<core::LooseItems>{});
  fuzz::try_as(value, core::LoadState::Open);
  return 0;
}
