#include "system/mac.h"

#include <sodium.h>

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace loadlight::system;

namespace {

std::string hex(std::span<const std::uint8_t> bytes) {
  std::string out(2 * bytes.size() + 1, '\0');
  sodium_bin2hex(out.data(), out.size(), bytes.data(), bytes.size());
  out.pop_back();
  return out;
}

std::string hmac(const std::vector<std::uint8_t>& key, std::string_view text) {
  return hex(hmac_sha256(key, text));
}

std::vector<std::uint8_t> repeated(std::uint8_t byte, std::size_t times) {
  return std::vector<std::uint8_t>(times, byte);
}

}  // namespace

// RFC 4231, section 4: test cases 1 to 4, 6 and 7 (5 is cut to 128 bits below).
TEST_CASE("HMAC-SHA-256 gives the values of RFC 4231") {
  CHECK(hmac(repeated(0x0b, 20), "Hi There") ==
        "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7");
  CHECK(hmac({'J', 'e', 'f', 'e'}, "what do ya want for nothing?") ==
        "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843");
  CHECK(hmac(repeated(0xaa, 20), std::string(50, '\xdd')) ==
        "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe");
  std::vector<std::uint8_t> counting;
  for (std::uint8_t byte = 0x01; byte <= 0x19; ++byte) counting.push_back(byte);
  CHECK(hmac(counting, std::string(50, '\xcd')) ==
        "82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b");
  CHECK(hmac(repeated(0xaa, 131), "Test Using Larger Than Block-Size Key - Hash Key First") ==
        "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54");
  CHECK(hmac(repeated(0xaa, 131),
             "This is a test using a larger than block-size key and a larger than block-size data. The key "
             "needs to be hashed before being used by the HMAC algorithm.") ==
        "9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2");
}

// RFC 4231, section 4.6, test case 5: truncation keeps the leading bits.
TEST_CASE("Cut to 128 bits it gives the value of RFC 4231") {
  CHECK(hmac(repeated(0x0c, 20), "Test With Truncation").substr(0, 32) == "a3b6167473100ee06e0c796c2955552b");
}

// FIPS 180-4's algorithm; the values of "" and "abc" as computed with independent code.
TEST_CASE("SHA-256, which it is built on, gives the known values of the empty text and abc") {
  const auto sha256 = [](std::string_view text) {
    std::array<std::uint8_t, crypto_hash_sha256_BYTES> hash{};
    crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(text.data()), text.size());
    return hex(hash);
  };
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

// The first 65 bits of RFC 4231's case 2, 5bdcc146bf60754e 6a..., five by five in Crockford's alphabet.
TEST_CASE("An authenticator is the first 65 bits in thirteen characters") {
  const std::vector<std::uint8_t> key{'J', 'e', 'f', 'e'};
  CHECK(authenticator(key, "what do ya want for nothing?") == "BFEC2HNZC1TMW");
}

TEST_CASE("Texts are the same iff every character is") {
  CHECK(same_text("0123456789ABC", "0123456789ABC"));
  CHECK_FALSE(same_text("0123456789ABC", "0123456789ABD"));
  CHECK_FALSE(same_text("0123456789ABC", "1123456789ABC"));
  CHECK_FALSE(same_text("0123456789ABC", "0123456789AB"));
  CHECK_FALSE(same_text("0123456789ABC", ""));
  CHECK(same_text("", ""));
}
