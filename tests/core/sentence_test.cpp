#include "loadlight/core/sentence.h"

#include <catch2/catch.hpp>

using namespace loadlight::core;

TEST_CASE("A sentence is read as it was put together") {
  const Details details{{"line", "12"}, {"column", "na me"}, {"empty", ""}};
  const auto read = parse_sentence(sentence("csv.row-cells", details));
  REQUIRE(read);
  CHECK(read->key == "csv.row-cells");
  CHECK(read->details == details);
}

TEST_CASE("Plain data is no sentence") {
  CHECK_FALSE(parse_sentence("0123456789"));
  CHECK_FALSE(parse_sentence(""));
}

TEST_CASE("A value that holds the separator cannot make details of its own") {
  const auto read = parse_sentence(sentence("key", {{"name",
                                                     "a\x1f"
                                                     "b\x1f"
                                                     "c"}}));
  REQUIRE(read);
  CHECK(read->details == Details{{"name", "a b c"}});
}
