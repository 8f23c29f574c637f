#include "loadlight/core/check_character.h"

#include <catch2/catch.hpp>
#include <random>
#include <string>

using namespace loadlight::core;

namespace {

constexpr std::string_view kAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

std::string random_text(std::mt19937& random, std::size_t length) {
  std::string text;
  while (text.size() < length) text.push_back(kAlphabet[random() % kAlphabet.size()]);
  return text;
}

}  // namespace

// ISO/IEC 7064 MOD 37,36: examples published for release identifiers and donation numbers (reported, and
// recomputed with independent code).
TEST_CASE("Published strings have their published check characters") {
  CHECK(check_character("A12425GABC1234002") == 'M');
  CHECK(check_character("DADPIDA3897722461") == 'J');
  CHECK(check_character("123AB") == 'X');
  CHECK(check_character_fits("A12425GABC1234002M"));
  CHECK(check_character_fits("DADPIDA3897722461J"));
}

TEST_CASE("Only digits and upper-case letters have a check character") {
  for (const char* text : {"a", "A-B", " ", "\xC3\x84"}) CHECK_FALSE(check_character(text));
  CHECK_FALSE(check_character_fits(""));
  CHECK_FALSE(check_character_fits("A"));
  CHECK_FALSE(check_character_fits("123ABx"));
}

TEST_CASE("Every single substitution is found") {
  std::mt19937 random{7064};
  for (int i = 0; i < 50; ++i) {
    std::string text = random_text(random, 9);
    text.push_back(*check_character(text));
    for (std::size_t at = 0; at < text.size(); ++at) {
      for (char other : kAlphabet) {
        std::string slipped = text;
        slipped[at] = other;
        CHECK(check_character_fits(slipped) == (other == text[at]));
      }
    }
  }
}

TEST_CASE("Fewer than one in a hundred swaps of two neighbours are missed") {
  std::mt19937 random{3736};
  int swaps = 0;
  int missed = 0;
  for (int i = 0; i < 2000; ++i) {
    std::string text = random_text(random, 9);
    text.push_back(*check_character(text));
    for (std::size_t at = 0; at + 1 < text.size(); ++at) {
      if (text[at] == text[at + 1]) continue;
      std::string slipped = text;
      std::swap(slipped[at], slipped[at + 1]);
      ++swaps;
      missed += check_character_fits(slipped) ? 1 : 0;
    }
  }
  CHECK(swaps > 10000);
  CHECK(missed * 100 < swaps);
}
