// The codewords of a symbol as text. The first byte picks the version.
//
// Promises: a text is UTF-8 and not empty, and no longer than its codewords can say; corrected blocks are codewords of
// their code, with no more changed than can be corrected.
#include <algorithm>
#include <vector>

#include "fuzz_input.h"
#include "vision/qr_structure.h"
#include "vision/qr_text.h"
#include "vision/reed_solomon.h"
#include "vision/valid_utf8.h"

namespace loadlight::fuzz {
namespace {

void read(std::span<const std::uint8_t> data, int version) {
  const auto text = vision::text_of(data, version);
  if (!text) return;
  promise(!text->empty(), "a text says something");
  promise(vision::valid_utf8(*text) == *text, "a text is UTF-8");
  promise(text->size() <= 3 * data.size(), "a text is no longer than its codewords can say");
}

void correct(std::string_view bytes, int checks) {
  std::vector<std::uint8_t> block(bytes.begin(), bytes.end());
  if (block.size() > 255 || static_cast<int>(block.size()) <= checks) return;
  const auto before = block;
  const auto done = vision::correct(block, checks, {});
  if (!done) {
    promise(block == before, "a block that cannot be corrected is left as it was");
    return;
  }
  promise(2 * done->errors <= checks, "no more is corrected than can be");
  for (std::size_t i = 0; i < block.size(); ++i) {
    const bool told = std::find(done->changed.begin(), done->changed.end(), static_cast<int>(i)) != done->changed.end();
    promise(told == (block[i] != before[i]), "what was changed is told");
  }
  const auto again = vision::correct(block, checks, {});
  promise(again && again->changed.empty(), "what was corrected needs no correction");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  fuzz::Input input{data, size};
  const int version = 1 + static_cast<int>(input.choice(vision::kVersions));
  const std::string_view bytes = input.rest();
  fuzz::read({reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()}, version);
  fuzz::correct(bytes, 2 + 2 * (version % 15));
  return 0;
}
