// keys.json, the office's keys, as it may come back from a backup or an editor.
//
// Promises: keys that are read are written as a file that reads as the same keys, their numbers run on from 1, and no
// number was taken for another.
#include <nlohmann/json.hpp>

#include "fuzz_input.h"
#include "system/key_file.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  using fuzz::promise;
  const std::string_view text = fuzz::Input{data, size}.rest();
  const auto keys = system::parse_keys(text);
  if (!keys) return 0;
  promise(!keys->empty(), "there is a key");
  const std::string printed = system::print_keys(*keys);
  const auto again = system::parse_keys(printed);
  promise(again && system::print_keys(*again) == printed, "keys are written as they were");
  const auto said = nlohmann::json::parse(text);
  for (std::size_t i = 0; i < keys->size(); ++i) {
    const auto made_at = core::to_milliseconds((*keys)[i].made_at);
    promise((*keys)[i].id == static_cast<int>(i) + 1, "keys are numbered from 1");
    promise(said.at("keys").at(i).at("made_at").dump() == std::to_string(made_at), "a time is not taken for another");
  }
  return 0;
}
