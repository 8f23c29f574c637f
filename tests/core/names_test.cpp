#include "loadlight/core/names.h"

#include <catch2/catch.hpp>
#include <random>

#include "loadlight/core/check_character.h"

using namespace loadlight::core;

namespace {

using RandomBytes = std::array<std::uint8_t, PackageId::kRandomBytes>;

RandomBytes bytes_of(std::mt19937_64& random) {
  RandomBytes bytes{};
  for (auto& byte : bytes) byte = static_cast<std::uint8_t>(random());
  return bytes;
}

PackageId some_id(std::mt19937_64& random) {
  while (true) {
    if (auto id = PackageId::from_random(bytes_of(random))) return *id;
  }
}

}  // namespace

TEST_CASE("A drawn package id is ten characters without I, L, O and U, the last of them the check") {
  std::mt19937_64 random{1};
  int drawn = 0;
  constexpr int kDraws = 20000;
  for (int i = 0; i < kDraws; ++i) {
    const auto id = PackageId::from_random(bytes_of(random));
    if (!id) continue;
    ++drawn;
    REQUIRE(id->text().size() == PackageId::kLength);
    REQUIRE(id->text().find_first_of("ILOU") == std::string::npos);
    REQUIRE(check_character_fits(id->text()));
    REQUIRE(PackageId::parse_exact(id->text()) == *id);
  }
  // Four of the 36 check characters are drawn again: 8 in 9 are kept.
  CHECK(drawn > kDraws * 86 / 100);
  CHECK(drawn < kDraws * 92 / 100);
}

TEST_CASE("A typed package id forgives case, groups and the three confusions") {
  std::mt19937_64 random{2};
  for (int i = 0; i < 200; ++i) {
    const PackageId id = some_id(random);
    std::string sloppy = " ";
    for (char c : id.grouped()) {
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
      sloppy.push_back(c == '1' ? 'l' : c == '0' ? 'o' : c);
    }
    CHECK(PackageId::parse_typed(sloppy) == id);
    CHECK(PackageId::parse_typed(id.text()) == id);
  }
}

TEST_CASE("A slip of one character of a package id never names a package") {
  std::mt19937_64 random{3};
  for (int i = 0; i < 50; ++i) {
    const std::string text = some_id(random).text();
    for (std::size_t at = 0; at < text.size(); ++at) {
      for (char other : std::string_view{"0123456789ABCDEFGHJKMNPQRSTVWXYZ"}) {
        if (other == text[at]) continue;
        std::string slipped = text;
        slipped[at] = other;
        CHECK_FALSE(PackageId::parse_typed(slipped));
      }
    }
  }
}

TEST_CASE("In a payload a package id is forgiven nothing") {
  std::mt19937_64 random{4};
  const PackageId id = some_id(random);
  CHECK_FALSE(PackageId::parse_exact(id.grouped()));
  CHECK_FALSE(PackageId::parse_exact(id.text() + "0"));
  CHECK_FALSE(PackageId::parse_exact(id.text().substr(1)));
  CHECK_FALSE(PackageId::parse_exact(""));
  CHECK_FALSE(PackageId::parse_exact("abcdefghjk"));
}

TEST_CASE("A package id is shown in groups of three, three and four") {
  std::mt19937_64 random{5};
  const PackageId id = some_id(random);
  CHECK(id.grouped() == id.text().substr(0, 3) + "-" + id.text().substr(3, 3) + "-" + id.text().substr(6));
}

TEST_CASE("A load name is a sterilizer and a number from 1 to 99999") {
  const auto load = LoadName::parse("S1-204");
  REQUIRE(load);
  CHECK(load->sterilizer == "S1");
  CHECK(load->number == 204);
  CHECK(load->text() == "S1-204");
  CHECK(LoadName::parse("1-1"));
  CHECK(LoadName::parse("ABC-99999"));
  for (const char* text : {"", "-", "S1", "S1-", "-204", "S1-0", "S1-007", "S1-100000", "ABCD-1", "s1-204",
                           "S1-2x", "S1--2", "S1-+2", " S1-2", "S1-2 ", "S1-204-1"}) {
    CHECK_FALSE(LoadName::parse(text));
  }
}

TEST_CASE("A code is a few digits and capital letters") {
  CHECK(is_code("A", 1));
  CHECK(is_code("EXAM01", 8));
  CHECK(is_code("12345678", 8));
  for (const char* code : {"", "123456789", "exam", "A B", "A-B", "\xC3\x84"}) CHECK_FALSE(is_code(code, 8));
}

TEST_CASE("A visit reference is opaque: three to sixteen characters with a digit") {
  for (const char* good : {"V12", "2026-11-25-003", "ABCDEFGHIJKLMNO1"}) CHECK(is_visit_reference(good));
  for (const char* bad :
       {"", "V1", "SMITH", "ANNA-SMITH", "ABCDEFGHIJKLMNOP1", "v12", "V 12", "V.12", "---"}) {
    CHECK_FALSE(is_visit_reference(bad));
  }
}
