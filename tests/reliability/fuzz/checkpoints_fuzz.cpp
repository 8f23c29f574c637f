// A file of checkpoints, as an office keeps it and a station beside it, and as somebody may bring it.
//
// Promises: a line that is read is written as one that reads as the same; no number is taken for another; every line
// is kept or counted as unreadable; nothing counts as this station's that is not genuine.
#include <nlohmann/json.hpp>

#include "fuzz_input.h"
#include "system/checkpoint_text.h"
#include "system/station_key.h"

namespace loadlight::fuzz {
namespace {

// The key that seeds are signed with.
constexpr std::string_view kOwnKey = "3b6a27bcceb6a42d62a3a8d02a6f0d73653215771de243a63ac048a18b59da29";

void must_hold(std::string_view text, const system::StationLine& line) {
  const auto said = nlohmann::json::parse(text);
  promise(said.at("sequence").dump() == std::to_string(line.checkpoint.sequence), "a number is not taken for another");
  promise(said.at("at").dump() == std::to_string(core::to_milliseconds(line.checkpoint.at)), "a time is what it was");
  const auto again = system::parse_line(system::print_line(line));
  promise(again && again->checkpoint == line.checkpoint && again->begun == line.begun, "a line is written as it was");
  promise(system::parse_line(system::print_line(line.checkpoint)).value().checkpoint == line.checkpoint,
          "an office's line is the station's without its folder");
  core::Checkpoint changed = line.checkpoint;
  changed.sequence += changed.sequence == 1 ? 1 : -1;
  promise(system::signed_bytes(changed) != system::signed_bytes(line.checkpoint), "what is signed tells a change");
  promise(!(system::is_genuine(line.checkpoint) && system::is_genuine(changed)), "a changed one is not genuine");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  fuzz::Input input{data, size};
  const auto list = system::parse_list("file", input.rest(), fuzz::kOwnKey);
  std::size_t lines = 0;
  for (const auto& kept : list.kept) {
    fuzz::promise(kept.genuine || !kept.own, "what is this station's is genuine");
  }
  while (!input.at_end()) {
    const std::string_view text = input.line();
    if (const auto line = system::parse_line(text)) fuzz::must_hold(text, *line);
    ++lines;
  }
  fuzz::promise(list.unreadable >= 0, "lines are counted");
  fuzz::promise(list.kept.size() + static_cast<std::size_t>(list.unreadable) <= lines, "lines are counted once");
  return 0;
}
