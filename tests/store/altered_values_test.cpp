// Values that none of our writing leaves behind: whoever altered a record must not have them read as something else.
#include <catch2/catch.hpp>

#include "store/column_codec.h"
#include "store/row_json.h"

namespace loadlight::store {
namespace {

template <class M>
bool is_read(const char* text) {
  M read{};
  return decode(SqlValue{std::string{text}}, read);
}

TEST_CASE("a list is read in the one spelling that we write") {
  using Texts = std::vector<std::string>;
  CHECK(is_read<Texts>(R"(["A","é"])"));
  CHECK(is_read<Texts>("[]"));
  for (const char* text : {R"([ "A"])", R"(["\u0041"])", "[] ", R"(["A",])", R"([1])", "{}", "", "[[]]"}) {
    CAPTURE(text);
    CHECK_FALSE(is_read<Texts>(text));
  }
}

TEST_CASE("a count that is too large for its place is not read as another") {
  using Loose = std::vector<core::LooseItems>;
  CHECK(is_read<Loose>(R"([["EXAM",2147483647]])"));
  for (const char* text : {R"([["EXAM",4294967297]])", R"([["EXAM",2147483648]])", R"([["EXAM",18446744073709551615]])",
                           R"([["EXAM",2.0]])", R"([["EXAM", 2]])", R"([["EXAM"]])"}) {
    CAPTURE(text);
    CHECK_FALSE(is_read<Loose>(text));
  }
}

TEST_CASE("a list takes the place of what was there and a refused one leaves it") {
  std::vector<std::string> items{"X"};
  CHECK(decode(SqlValue{std::string{R"(["A"])"}}, items));
  CHECK(items == std::vector<std::string>{"A"});
  CHECK_FALSE(decode(SqlValue{std::string{R"(["B", "C"])"}}, items));
  CHECK(items == std::vector<std::string>{"A"});
}

TEST_CASE("a number that no column holds makes a body none of ours") {
  const auto body = [](const std::string& number) {
    return R"({"details":{},"records":[{"table":"settings","row":{"name":"x","set_at":)" + number + "}}]}";
  };
  CHECK(rows_in_body(body("9223372036854775807")));
  CHECK_FALSE(rows_in_body(body("9223372036854775808")));
  CHECK_FALSE(rows_in_body(body("18446744073709551615")));
}

}  // namespace
}  // namespace loadlight::store
