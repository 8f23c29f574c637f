#include "vision/qr_text.h"

#include <catch2/catch.hpp>
#include <vector>

namespace loadlight::vision {
namespace {

using Bytes = std::vector<std::uint8_t>;

// Data codewords of so many bytes: these bits, a terminator of up to four zeros, zeros to the byte, pads.
Bytes padded(std::string bits, std::size_t size) {
  bits.append(std::min<std::size_t>(4, size * 8 - bits.size()), '0');
  bits.append((8 - bits.size() % 8) % 8, '0');
  Bytes bytes;
  for (std::size_t i = 0; i < bits.size(); i += 8) {
    bytes.push_back(static_cast<std::uint8_t>(std::stoi(bits.substr(i, 8), nullptr, 2)));
  }
  for (bool first = true; bytes.size() < size; first = !first) bytes.push_back(first ? 0xEC : 0x11);
  return bytes;
}

std::string bits_of(std::string_view bytes) {
  std::string bits;
  for (char c : bytes) {
    for (int i = 7; i >= 0; --i) bits += (static_cast<unsigned char>(c) >> i & 1) != 0 ? '1' : '0';
  }
  return bits;
}

std::string byte_segment(std::string_view bytes) {
  return "0100" + bits_of(std::string(1, static_cast<char>(bytes.size()))) + bits_of(bytes);
}

const std::string kThreeDigits =
    "00010000000011"
    "0001111011";  // "123": ten bits of 123
const std::string kTwoLetters =
    "0010000000010"
    "00111001101";  // "AB": 45 * 10 + 11

}  // namespace

TEST_CASE("The standard's example is read (ISO/IEC 18004 annex I)") {
  const Bytes data{0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11,
                   0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11};
  CHECK(text_of(data, 1) == "01234567");
}

// Bits of a published encoder's tests.
TEST_CASE("Numeric, alphanumeric and byte segments follow one another") {
  CHECK(text_of(Bytes{32, 49, 205, 69, 42, 20, 0, 236, 17}, 1) == "ABCDEF");
  CHECK(text_of(padded(kThreeDigits, 16), 1) == "123");
  CHECK(text_of(padded("00010000000010"
                       "0001100",
                       16),
                1) == "12");
  CHECK(text_of(padded("00010000000001"
                       "0001",
                       16),
                1) == "1");
  CHECK(text_of(padded(kTwoLetters, 16), 1) == "AB");
  CHECK(text_of(padded("0010000000001"
                       "101100",
                       16),
                1) == ":");
  CHECK(text_of(padded(kTwoLetters + kThreeDigits + byte_segment("x"), 16), 1) == "AB123x");
}

TEST_CASE("Counts grow with the version") {
  CHECK(text_of(padded("0001000000000011"
                       "0001111011",
                       40),
                10) == "123");
  CHECK(text_of(padded("000100000000000011"
                       "0001111011",
                       40),
                27) == "123");
  CHECK(text_of(padded("001000000000010"
                       "00111001101",
                       40),
                26) == "AB");
  CHECK(text_of(padded("00100000000000010"
                       "00111001101",
                       40),
                40) == "AB");
  CHECK(text_of(padded("01000000000000000001" + bits_of("x"), 40), 10) == "x");
}

TEST_CASE("Bytes are UTF-8 where they are well-formed and ISO 8859-1 where they are not") {
  CHECK(text_of(padded(byte_segment("Br\xC3\xBC"
                                    "cke"),
                       16),
                1) ==
        "Br\xC3\xBC"
        "cke");
  CHECK(text_of(padded(byte_segment("Br\xFC"
                                    "cke"),
                       16),
                1) ==
        "Br\xC3\xBC"
        "cke");
  CHECK(text_of(padded(byte_segment("\xC3") + byte_segment("\xBC"), 16), 1) == "\xC3\xBC");
}

TEST_CASE("An ECI assignment tells what bytes are: 3 ISO 8859-1, 26 UTF-8, and no other is read") {
  const std::string latin1 = "011100000011";
  const std::string utf8 = "011100011010";
  CHECK(text_of(padded(latin1 + byte_segment("\xC3\xBC"), 16), 1) == "\xC3\x83\xC2\xBC");
  CHECK(text_of(padded(utf8 + byte_segment("\xC3\xBC"), 16), 1) == "\xC3\xBC");
  CHECK(!text_of(padded(utf8 + byte_segment("\xFC"), 16), 1));
  CHECK(text_of(padded(byte_segment("\xFC") + utf8 + byte_segment("\xC3\xBC"), 16), 1) == "\xC3\xBC\xC3\xBC");
  CHECK(!text_of(padded("011100010100" + byte_segment("x"), 16), 1));  // 20, Shift JIS
  CHECK(!text_of(padded("0111"
                        "1000000000011010" +
                            byte_segment("x"),
                        16),
                 1));  // 26 in two bytes
}

TEST_CASE("Segments that are not read, and values that no segment can hold, are nothing") {
  CHECK(!text_of(padded("100000000001"
                        "0110110011111",
                        16),
                 1));                                          // kanji
  CHECK(!text_of(padded("0101" + byte_segment("x"), 16), 1));  // FNC1
  CHECK(!text_of(padded("0011"
                        "0000000100000000" +
                            byte_segment("x"),
                        16),
                 1));  // structured append
  CHECK(!text_of(padded("00010000000011"
                        "1111101000",
                        16),
                 1));  // 1000 as three digits
  CHECK(!text_of(padded("00010000000010"
                        "1100100",
                        16),
                 1));  // 100 as two
  CHECK(!text_of(padded("00010000000001"
                        "1010",
                        16),
                 1));  // 10 as one
  CHECK(!text_of(padded("0010000000010"
                        "11111101001",
                        16),
                 1));  // 2025 as a pair
  CHECK(!text_of(padded("0010000000001"
                        "101101",
                        16),
                 1));  // 45 as a letter
  CHECK(!text_of(padded("0100"
                        "11111111" +
                            bits_of("x"),
                        16),
                 1));  // 255 bytes of 14
}

TEST_CASE("An empty text is none") {
  CHECK(!text_of(padded("", 16), 1));
  CHECK(!text_of(padded("00010000000000", 16), 1));
  CHECK(!text_of({}, 1));
}

TEST_CASE("Whatever follows the text must be what the standard asks, to the bit") {
  const auto good = padded(kThreeDigits, 16);
  REQUIRE(text_of(good, 1) == "123");
  const std::size_t text_bits = kThreeDigits.size();
  for (std::size_t bit = text_bits; bit < good.size() * 8; ++bit) {
    auto bad = good;
    bad[bit / 8] = static_cast<std::uint8_t>(bad[bit / 8] ^ 0x80U >> bit % 8);
    INFO("bit " << bit);
    CHECK(text_of(bad, 1) != "123");
    if (bit >= text_bits + 4) CHECK(!text_of(bad, 1));
  }
}

TEST_CASE("A text may fill its symbol so that the terminator is cut short") {
  CHECK(text_of(padded(byte_segment("abcdefghijklmn"), 16), 1) == "abcdefghijklmn");
  CHECK(text_of(padded(kThreeDigits, 3), 1) == "123");
  auto three_bits_left = padded(
      "0010000000001"
      "101100"
      "00010000000001"
      "0001",
      5);
  CHECK(text_of(three_bits_left, 1) == ":1");
  three_bits_left.back() |= 1;
  CHECK(!text_of(three_bits_left, 1));
}

}  // namespace loadlight::vision
