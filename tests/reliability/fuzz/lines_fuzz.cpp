// What a hand scanner types: lines out of bytes that arrive in any pieces.
//
// Promises: pieces make no difference; a line holds no line end and is no longer than it may be.
#include <utility>
#include <vector>

#include "fuzz_input.h"
#include "system/line_assembler.h"

namespace loadlight::fuzz {
namespace {

// A line, and whether it was cut because it is too long.
using Taken = std::pair<std::string, bool>;

std::vector<Taken> lines_of(std::string_view text, std::size_t step) {
  system::LineAssembler assembler;
  std::vector<Taken> lines;
  const auto take = [&] {
    while (const auto read = assembler.take()) {
      const auto* line = std::get_if<port::Line>(&*read);
      const auto* cut = std::get_if<port::OverlongLine>(&*read);
      promise(line || cut, "what is assembled is a line");
      lines.emplace_back(line ? line->text : cut->beginning, cut != nullptr);
    }
  };
  in_pieces(text, step, [&](std::string_view piece) {
    assembler.feed(piece);
    take();
  });
  assembler.finish();
  take();
  return lines;
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view text = fuzz::Input{data, size}.rest();
  const auto whole = fuzz::lines_of(text, text.size());
  const auto pieces = fuzz::lines_of(text, 3);
  fuzz::promise(whole.size() == pieces.size(), "pieces make no difference to the number of lines");
  for (std::size_t i = 0; i < whole.size(); ++i) {
    fuzz::promise(whole[i] == pieces[i], "pieces make no difference");
    fuzz::promise(whole[i].first.size() <= port::kLongestLine, "a line is no longer than it may be");
    fuzz::promise(whole[i].first.find_first_of("\r\n") == std::string::npos, "a line holds no line end");
  }
  return 0;
}
