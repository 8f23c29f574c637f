#include "label/text_check.h"

#include <catch2/catch.hpp>

using loadlight::label::is_label_text;

TEST_CASE("Names of any script are label texts") {
  CHECK(is_label_text(""));
  CHECK(is_label_text("Mirror and probe"));
  CHECK(is_label_text("Καθρέφτης, зеркало, مرآة, दर्पण, 口腔鏡"));
  CHECK(is_label_text("\xF0\x9F\x92\xA1"));  // U+1F4A1, four bytes
}

TEST_CASE("Control characters and turned directions are not") {
  CHECK_FALSE(is_label_text("two\nlines"));
  CHECK_FALSE(is_label_text(std::string_view{"\0", 1}));
  CHECK_FALSE(is_label_text("\x7f"));
  CHECK_FALSE(is_label_text("\xC2\x85"));      // U+0085
  CHECK_FALSE(is_label_text("\xE2\x80\xA8"));  // U+2028
  CHECK_FALSE(
      is_label_text("S1\xE2\x80\xAE"
                    "402"));                   // U+202E turns 402 into 204
  CHECK_FALSE(is_label_text("\xE2\x81\xA6"));  // U+2066
}

TEST_CASE("Broken UTF-8 is not (RFC 3629)") {
  CHECK_FALSE(is_label_text("\x80"));
  CHECK_FALSE(is_label_text("\xC3"));
  CHECK_FALSE(is_label_text("\xC0\xAF"));          // overlong
  CHECK_FALSE(is_label_text("\xE0\x80\xAF"));      // overlong
  CHECK_FALSE(is_label_text("\xED\xA0\x80"));      // a surrogate
  CHECK_FALSE(is_label_text("\xF4\x90\x80\x80"));  // above U+10FFFF
  CHECK_FALSE(is_label_text("\xFF"));
}
