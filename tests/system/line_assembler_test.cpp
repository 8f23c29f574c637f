#include "system/line_assembler.h"

#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

using namespace loadlight;
using system::LineAssembler;
using Texts = std::vector<std::string>;

namespace {

// Every whole line, in order; an overlong one as "+" and its length.
Texts take_all(LineAssembler& lines) {
  Texts out;
  while (auto line = lines.take()) {
    if (const auto* whole = std::get_if<port::Line>(&*line)) out.push_back(whole->text);
    if (const auto* cut = std::get_if<port::OverlongLine>(&*line)) {
      out.push_back("+" + std::to_string(cut->beginning.size()));
    }
  }
  return out;
}

Texts lines_of(std::string_view text) {
  LineAssembler lines;
  lines.feed(text);
  lines.finish();
  return take_all(lines);
}

}  // namespace

TEST_CASE("LF, CR and CRLF end a line, and each once") {
  CHECK(lines_of("a\nb\n") == Texts{"a", "b"});
  CHECK(lines_of("a\rb\r") == Texts{"a", "b"});
  CHECK(lines_of("a\r\nb\r\n") == Texts{"a", "b"});
  CHECK(lines_of("a\r\rb\n\nc\n\r") == Texts{"a", "", "b", "", "c", ""});
}

TEST_CASE("The last line needs no ending, and an ending adds no line") {
  CHECK(lines_of("a\nb") == Texts{"a", "b"});
  CHECK(lines_of("").empty());
  CHECK(lines_of("\n") == Texts{""});
}

TEST_CASE("Every other byte is part of the line") {
  CHECK(lines_of(std::string_view{"a\0\t\xFF \x1B\n", 7}) == Texts{std::string{"a\0\t\xFF \x1B", 6}});
}

TEST_CASE("A line of 4096 bytes is whole, a longer one is cut and told, and the next is whole again") {
  const std::string longest(port::kLongestLine, 'x');
  CHECK(lines_of(longest + "\nnext\n") == Texts{longest, "next"});
  CHECK(lines_of(longest + "y\nnext\n") == Texts{"+4096", "next"});
  CHECK(lines_of(std::string(1'000'000, 'x')) == Texts{"+4096"});
}

TEST_CASE("However the bytes arrive, the lines are the same") {
  std::mt19937 random{87};
  constexpr std::string_view kCharacters = "ab\r\n";
  for (int i = 0; i < 500; ++i) {
    std::string text;
    for (auto left = random() % 40; left > 0; --left) text.push_back(kCharacters[random() % 4]);
    LineAssembler pieces;
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t size = 1 + random() % 5;
      pieces.feed(std::string_view{text}.substr(at, size));
      at += size;
    }
    pieces.finish();
    CHECK(take_all(pieces) == lines_of(text));
  }
}
