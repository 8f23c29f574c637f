// Texts that are not plain: bytes, control characters, scripts.
#include <catch2/catch.hpp>
#include <string>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/valid_utf8.h"

namespace loadlight::vision_tests {
namespace {

std::string read_back(const std::string& bytes) {
  const auto found =
      vision::make_symbol_reader()->read(view_of(enlarged(drawn_symbol(bytes, 8, Level::M), 4, 4)));
  REQUIRE(found.size() == 1);
  return found.front().text;
}

}  // namespace

TEST_CASE("Well-formed UTF-8 passes unchanged, anything else becomes U+FFFD byte by byte") {
  // RFC 3629, section 7, gives the four words; the bad sequences follow its section 3.
  for (const std::string good :
       {"A\xE2\x89\xA2\xCE\x91.", "\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4",
        "\xE6\x97\xA5\xE6\x9C\xAC\xE8\xAA\x9E", "\xEF\xBB\xBF\xF0\xA3\x8E\xB4", "\x1D\x1E\n"}) {
    CHECK(vision::valid_utf8(good) == good);
  }
  const std::string mark = "\xEF\xBF\xBD";
  CHECK(vision::valid_utf8("\xC0\x80") == mark + mark);
  CHECK(vision::valid_utf8("\xED\xA0\x80") == mark + mark + mark);
  CHECK(vision::valid_utf8("\xF4\x90\x80\x80") == mark + mark + mark + mark);
  CHECK(vision::valid_utf8("a\xE2\x89") == "a" + mark + mark);
  CHECK(vision::valid_utf8("\xFF"
                           "b") == mark + "b");
}

TEST_CASE("Control characters, other scripts and bare bytes come out as valid UTF-8") {
  const std::string separated =
      "[)>\x1E"
      "06\x1DSABC\x1D"
      "1T99\x1E\x04";
  CHECK(read_back(separated) == separated);
  const std::string words =
      "Gr\xC3\xBC\xC3\x9F"
      "e \xE6\x97\xA5\xE6\x9C\xAC";
  CHECK(read_back(words) == words);
  for (int first = 0; first < 256; first += 13) {
    std::string bytes;
    for (int i = 0; i < 90; ++i) bytes += static_cast<char>((first + i * 37) & 255);
    const auto text = read_back(bytes);
    CHECK(!text.empty());
    CHECK(vision::valid_utf8(text) == text);
  }
}

}  // namespace loadlight::vision_tests
