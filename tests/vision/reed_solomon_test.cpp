#include "vision/reed_solomon.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>

#include "vision/soft_symbols.h"

namespace loadlight::vision {
namespace {

using vision_tests::between;
using vision_tests::Random;
using Codeword = std::vector<std::uint8_t>;

// Data followed by its check values: unknown checks are what erasures are filled in with.
Codeword encoded(Codeword data, int checks) {
  std::vector<int> unknown(static_cast<std::size_t>(checks));
  std::iota(unknown.begin(), unknown.end(), static_cast<int>(data.size()));
  data.resize(data.size() + unknown.size());
  REQUIRE(correct(data, checks, unknown));
  return data;
}

Codeword random_codeword(int data, int checks, Random& random) {
  Codeword values;
  for (int i = 0; i < data; ++i) values.push_back(static_cast<std::uint8_t>(between(0, 255, random)));
  return encoded(values, checks);
}

std::vector<int> random_positions(std::size_t length, std::size_t count, Random& random) {
  std::vector<int> all(length);
  std::iota(all.begin(), all.end(), 0);
  std::shuffle(all.begin(), all.end(), random);
  all.resize(count);
  return all;
}

void change(Codeword& word, int position, Random& random) {
  auto& value = word[static_cast<std::size_t>(position)];
  value = static_cast<std::uint8_t>(value ^ between(1, 255, random));
}

}  // namespace

TEST_CASE("Check values are those of the standard's example (ISO/IEC 18004 annex I)") {
  const Codeword expected{0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC,
                          0x11, 0xEC, 0x11, 0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55};
  CHECK(encoded({expected.begin(), expected.begin() + 16}, 10) == expected);
}

// Known answers of a published encoder's tests, recomputed.
TEST_CASE("Check values are those of known answers, a leading zero among them") {
  const Codeword first{32,  49, 205, 69,  42,  20, 0,  236, 17,  0,  3,   130, 179,
                       194, 0,  55,  211, 110, 79, 98, 72,  170, 96, 211, 137, 213};
  CHECK(encoded({first.begin(), first.begin() + 9}, 17) == first);
  const Codeword second{67,  70, 22,  38, 54,  70,  86, 102, 118, 134, 150, 166, 182, 198, 214, 175, 80,
                        155, 64, 178, 45, 214, 233, 65, 209, 12,  155, 117, 31,  140, 214, 27,  187};
  CHECK(encoded({second.begin(), second.begin() + 15}, 18) == second);
}

TEST_CASE("Errors and erasures are corrected as far as the check values reach, and counted") {
  Random random(1);
  for (int checks = 2; checks <= 30; ++checks) {
    for (int round = 0; round < 60; ++round) {
      const auto word = random_codeword(between(1, 123, random), checks, random);
      const int erased = between(0, std::min(checks, static_cast<int>(word.size())), random);
      const int room = static_cast<int>(word.size()) - erased;
      const int errors = std::min((checks - erased) / 2, room);
      auto places = random_positions(word.size(), static_cast<std::size_t>(erased + errors), random);
      auto seen = word;
      for (int place : places) change(seen, place, random);
      const auto correction =
          correct(seen, checks, std::span(places).first(static_cast<std::size_t>(erased)));
      REQUIRE(correction);
      CHECK(seen == word);
      CHECK(correction->errors == errors);
      std::sort(places.begin(), places.end());
      CHECK(correction->changed == places);
    }
  }
}

TEST_CASE("Erasures whose values were right are not among what changed") {
  Random random(2);
  const auto word = random_codeword(20, 10, random);
  auto seen = word;
  change(seen, 3, random);
  const std::vector<int> erasures{3, 7, 11};
  const auto correction = correct(seen, 10, erasures);
  REQUIRE(correction);
  CHECK(correction->changed == std::vector<int>{3});
  CHECK(correction->errors == 0);
}

TEST_CASE("Beyond reach the codeword stays as it was, or becomes another of the code within reach") {
  Random random(3);
  int refused = 0;
  for (int round = 0; round < 2000; ++round) {
    const int checks = between(7, 30, random);
    const auto word = random_codeword(between(10, 80, random), checks, random);
    auto seen = word;
    for (int place : random_positions(word.size(), static_cast<std::size_t>(checks / 2 + 1), random)) {
      change(seen, place, random);
    }
    const auto before = seen;
    const auto correction = correct(seen, checks, {});
    refused += correction ? 0 : 1;
    if (!correction) CHECK(seen == before);
    if (!correction) continue;
    CHECK(2 * correction->errors <= checks);
    CHECK(correct(seen, checks, {})->changed.empty());
  }
  CHECK(refused > 1900);
}

TEST_CASE("More erasures than check values are refused") {
  Random random(4);
  auto word = random_codeword(10, 7, random);
  change(word, 0, random);
  CHECK(!correct(word, 7, random_positions(word.size(), 8, random)));
}

}  // namespace loadlight::vision
