#include "exchange/csv_encoding.h"

#include <catch2/catch.hpp>
#include <string>

using namespace loadlight;
using exchange::encoding_failure;

namespace {

std::string fault(std::string_view text) {
  const auto failure = encoding_failure(text);
  if (!failure) return "";
  CHECK(failure->code == core::FailureCode::BadEncoding);
  return failure->details.at(0).second + " " + failure->details.at(1).second;
}

}  // namespace

// The Unicode Standard, chapter 3: table 3-7 (well-formed sequences) and the examples of ill-formed ones.
TEST_CASE("Every well-formed sequence passes, at both ends of its range") {
  for (const char* text :
       {"", "a", "\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xEC\xBF\xBF", "\xED\x9F\xBF",
        "\xEE\x80\x80", "\xEF\xBF\xBF", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
    CHECK(fault(text).empty());
  }
}

TEST_CASE("Every ill-formed sequence is refused") {
  for (const char* text : {"\x80", "\xBF", "\xC0\xAF", "\xC1\xBF", "\xC2",
                           "\xC2"
                           "a",
                           "\xE0\x9F\x80", "\xE0\xA0", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80",
                           "\xF5\x80\x80\x80", "\xF0\x90\x80"}) {
    CHECK(fault(text) == "1 not-utf-8");
  }
}

TEST_CASE("The line of the first bad byte is named") {
  CHECK(fault("code,name\nA,ok\nB,M\xFCller\n") == "3 not-utf-8");  // Latin-1
  CHECK(fault(std::string_view{"code\nA\n\0", 8}) == "3 nul");
}

TEST_CASE("UTF-16 is named for what it is when it has its mark") {
  CHECK(fault(std::string_view{"\xFF\xFE"
                               "c\0o\0",
                               6}) == "1 utf-16");
  CHECK(fault(std::string_view{"\xFE\xFF\0c\0o", 6}) == "1 utf-16");
  CHECK(fault(std::string_view{"c\0o\0", 4}) == "1 nul");
}

TEST_CASE("Only the mark of UTF-8 is taken off, and once") {
  CHECK(exchange::without_mark("\xEF\xBB\xBF"
                               "code") == "code");
  CHECK(exchange::without_mark("code") == "code");
  CHECK(exchange::without_mark("\xEF\xBB") == "\xEF\xBB");
}
