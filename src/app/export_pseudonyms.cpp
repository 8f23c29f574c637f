#include "app/export_pseudonyms.h"

#include <array>
#include <cstdint>

#include "loadlight/core/programs.h"

namespace loadlight::app {
namespace {

constexpr std::size_t kLength = 10;  // base32: 50 bits

std::string_view text_of(Alias alias) {
  switch (alias) {
    case Alias::None:
      return "";
    case Alias::Office:
      return "office";
    case Alias::Sterilizer:
      return "sterilizer";
    case Alias::Load:
      return "load";
    case Alias::Operator:
      return "operator";
    case Alias::Program:
      return "program";
  }
  return "";
}

}  // namespace

ExportPseudonyms::ExportPseudonyms(const port::Keyring& keyring) : keyring_(&keyring) {
  std::array<std::uint8_t, 32> bytes{};
  keyring.fill_random(bytes);
  salt_.assign(bytes.begin(), bytes.end());
}

// No label's signed part begins so: what is made here signs nothing.
std::string ExportPseudonyms::of(Alias alias, const std::string& text) const {
  if (text.empty()) return {};
  if (alias == Alias::Program && core::find_program(text)) return text;
  const std::string of_what{text_of(alias)};
  return of_what + "-" + keyring_->mac("export " + salt_ + " " + of_what + " " + text).substr(0, kLength);
}

}  // namespace loadlight::app
