#include "loadlight/core/base32.h"

#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <vector>

using namespace loadlight::core;

// Crockford's base32 page gives the alphabet and the decoding rules; the numbers below were computed from
// it with independent code, the first of them also read as published.
TEST_CASE("A number has the digits that Crockford's alphabet gives it") {
  CHECK(base32_of_number(0) == "0");
  CHECK(base32_of_number(31) == "Z");
  CHECK(base32_of_number(32) == "10");
  CHECK(base32_of_number(1234) == "16J");
  CHECK(base32_of_number(1000000000) == "XSNJG0");
  CHECK(base32_of_number(4294967295) == "3ZZZZZZ");
  CHECK(base32_of_number(18446744073709551615u) == "FZZZZZZZZZZZZ");
}

TEST_CASE("Bits become characters five by five, the most significant first") {
  const std::array<std::uint8_t, 5> bytes{0x00, 0x44, 0x32, 0x14, 0xC7};  // 0, 1, 2, 3, 4, 5, 6, 7
  CHECK(base32_of_bits(bytes, 8) == "01234567");
  CHECK(base32_of_bits(bytes, 3) == "012");
  CHECK(base32_of_bits(bytes, 0).empty());
  const std::array<std::uint8_t, 9> ones{0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0x80};
  CHECK(base32_of_bits(ones, 13) == "ZZZZZZZZZZZZZ");
}

TEST_CASE("The same bits as a number and as bytes spell the same characters") {
  std::mt19937_64 random{20261125};
  for (int i = 0; i < 1000; ++i) {
    const std::uint64_t number = random() >> 24;  // 40 bits: eight characters
    std::array<std::uint8_t, 5> bytes{};
    for (std::size_t b = 0; b < 5; ++b) bytes[b] = static_cast<std::uint8_t>(number >> (32 - 8 * b));
    const std::string digits = base32_of_number(number);
    CHECK(base32_of_bits(bytes, 8) == std::string(8 - digits.size(), '0') + digits);
  }
}

TEST_CASE("What a person typed is read as Crockford's rules say") {
  CHECK(base32_normalized("abc-def ghjk") == "ABCDEFGHJK");
  CHECK(base32_normalized("iIlLoO") == "111100");
  CHECK(base32_normalized("0123456789ABCDEFGHJKMNPQRSTVWXYZ") == "0123456789ABCDEFGHJKMNPQRSTVWXYZ");
  CHECK(base32_normalized("") == "");
}

TEST_CASE("A character outside the alphabet is no data, U among them") {
  for (const char* text : {"U", "u", "AB*", "A.B", "A\tB", "\xC3\xA9", "~", "$", "="}) {
    CHECK_FALSE(base32_normalized(text));
  }
  CHECK_FALSE(base32_normalized(std::string_view{"A\0B", 3}));
}
