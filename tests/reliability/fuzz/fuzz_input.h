// What a harness is given, and how it says that a promise is broken.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

namespace loadlight::fuzz {

// Choices are taken off the front, so that a seed can be written by hand: "2" and then a text.
class Input final {
 public:
  Input(const std::uint8_t* data, std::size_t size)
      : rest_(size == 0 ? "" : reinterpret_cast<const char*>(data), size) {}

  std::uint8_t byte() {
    if (rest_.empty()) return 0;
    const auto first = static_cast<std::uint8_t>(rest_.front());
    rest_.remove_prefix(1);
    return first;
  }
  // 0 to `count` - 1.
  std::size_t choice(std::size_t count) { return byte() % count; }
  // Up to the next line end, which is dropped; everything when there is none.
  std::string_view line() {
    const auto end = rest_.find('\n');
    const std::string_view cut = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return cut;
  }
  std::string_view rest() const { return rest_; }
  bool at_end() const { return rest_.empty(); }

 private:
  std::string_view rest_;
};

// Ends the run, and the input is kept.
inline void promise(bool kept, const char* what) {
  if (kept) return;
  std::fprintf(stderr, "A promise is broken: %s\n", what);
  std::abort();
}

// Hands `text` on in pieces whose sizes its own bytes tell, so that a piece may end anywhere.
template <class Take>
void in_pieces(std::string_view text, std::size_t step, Take take) {
  while (!text.empty()) {
    const std::size_t size = 1 + (step * 7 + static_cast<unsigned char>(text.front())) % (step + 1);
    take(text.substr(0, size));
    text.remove_prefix(size < text.size() ? size : text.size());
  }
}

}  // namespace loadlight::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
