// The file of what was done while the record could not be reached, as a station keeps it until it is written.
//
// Promises: a line that is read is written as one that reads as the same; its time is not taken for another; its id is
// one that we give.
#include <nlohmann/json.hpp>

#include "fuzz_input.h"
#include "system/queue_text.h"

namespace loadlight::fuzz {
namespace {

bool are_same(const port::QueuedAct& one, const port::QueuedAct& other) {
  return one.id == other.id && one.kind == other.kind && one.at == other.at && one.operator_code == other.operator_code &&
         one.subject == other.subject && one.details == other.details;
}

void must_hold(std::string_view text, const port::QueuedAct& act) {
  const auto said = nlohmann::json::parse(text);
  promise(said.at("at").dump() == std::to_string(core::to_milliseconds(act.at)), "a time is what it was");
  promise(act.id.size() == 32 && act.id.find_first_not_of("0123456789abcdef") == std::string::npos, "an id is one of ours");
  const std::string printed = system::print_queued(act);
  promise(printed.find('\n') == std::string::npos, "an act is one line");
  const auto again = system::parse_queued(printed);
  promise(again && are_same(*again, act), "an act is written as it was");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  fuzz::Input input{data, size};
  while (!input.at_end()) {
    const std::string_view text = input.line();
    if (const auto act = system::parse_queued(text)) fuzz::must_hold(text, *act);
  }
  return 0;
}
