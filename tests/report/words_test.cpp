#include "loadlight/report/words.h"

#include <catch2/catch.hpp>
#include <string>

using loadlight::core::FailureCode;
using loadlight::report::Words;

namespace {

Words words_of(std::string_view json) {
  const auto words = Words::parse(json);
  REQUIRE(words);
  return *words;
}

std::string why_not(std::string_view json) {
  const auto words = Words::parse(json);
  REQUIRE_FALSE(words);
  CHECK(words.failure().code == FailureCode::WordsUnreadable);
  return words.failure().details.at(0).second + " " + words.failure().details.at(1).second;
}

}  // namespace

TEST_CASE("A key has its text, in any script") {
  const auto words = words_of(R"({"a.b": "Packages", "c": "Päckchen 包", "empty": ""})");
  CHECK(words.text("a.b") == "Packages");
  CHECK(words.text("c") == "Päckchen 包");
  CHECK(words.text("empty").empty());
  CHECK(words.has("empty"));
  CHECK(words.keys() == std::vector<std::string>{"a.b", "c", "empty"});
}

TEST_CASE("A key without a text shows itself and can be told") {
  const auto words = words_of("{}");
  CHECK_FALSE(words.has("failure.disk-full.text"));
  CHECK(words.text("failure.disk-full.text") == "«failure.disk-full.text»");
  CHECK(words.text("failure.disk-full.text", {{"path", "x"}}) == "«failure.disk-full.text»");
}

TEST_CASE("Gaps are filled by name, each as often as it stands there") {
  const auto words = words_of(R"({"k": "{load}: {n} of {n} in {load}"})");
  CHECK(words.text("k", {{"n", "3"}, {"load", "S1-204"}}) == "S1-204: 3 of 3 in S1-204");
}

TEST_CASE("A gap without a detail stays, and a detail without a gap is ignored") {
  const auto words = words_of(R"({"k": "{a} and {b}"})");
  CHECK(words.text("k", {{"a", "1"}, {"z", "2"}}) == "1 and {b}");
  CHECK(words.text("k") == "{a} and {b}");
}

TEST_CASE("A brace that begins no gap is a brace") {
  const auto words = words_of(R"({"k": "{ {} {a b} {a }} {"})");
  CHECK(words.text("k", {{"a", "1"}, {"", "2"}, {"a b", "3"}}) == "{ {} {a b} {a }} {");
}

TEST_CASE("An aside is left out when one of its gaps has no detail") {
  const auto words = words_of(R"({"k": "Not read[: {why}][ in {a}, {b}]."})");
  CHECK(words.text("k", {{"why", "[x]"}, {"a", "1"}, {"b", "2"}}) == "Not read: [x] in 1, 2.");
  CHECK(words.text("k", {{"a", "1"}}) == "Not read.");
  CHECK(words.text("k", loadlight::core::Details{}) == "Not read.");
  CHECK(words_of(R"({"k": "[] a [b"})").text("k", loadlight::core::Details{}) == "[] a [b");
}

TEST_CASE("What fills a gap is never filled itself") {
  const auto words = words_of(R"({"k": "{name}{n}"})");
  CHECK(words.text("k", {{"name", "{n}"}, {"n", "1"}}) == "{n}1");
}

TEST_CASE("A detail that the catalogue words is given in those words") {
  const auto words = words_of(R"({"k": "{path}: {why}", "detail.why.absent": "there is no such file"})");
  CHECK(words.text("k", {{"path", "absent"}, {"why", "absent"}}) == "absent: there is no such file");
  CHECK(words.text("k", {{"path", "p"}, {"why", "other"}}) == "p: other");
}

TEST_CASE("A sentence is the text of its key with its details") {
  const auto words = words_of(R"({"csv.quote-open": "Line {line}: a quote is never closed."})");
  CHECK(words.text(loadlight::core::Sentence{"csv.quote-open", {{"line", "7"}}}) ==
        "Line 7: a quote is never closed.");
}

TEST_CASE("A second language has the same keys in its own words and order") {
  const auto english = words_of(R"({"k": "{n} packages in {load}"})");
  const auto german = words_of(R"({"k": "In {load} sind {n} Päckchen"})");
  CHECK(english.keys() == german.keys());
  CHECK(german.text("k", {{"n", "3"}, {"load", "S1-204"}}) == "In S1-204 sind 3 Päckchen");
}

TEST_CASE("What is no flat object of texts is refused, and where is said") {
  CHECK(why_not("") == "malformed 1");
  CHECK(why_not("{\"a\": \"b\"") == "malformed 10");
  CHECK(why_not("{\"a\": \"b\"} x") == "malformed 12");
  CHECK(why_not("[]") == "not-texts ");
  CHECK(why_not("\"text\"") == "not-texts ");
  CHECK(why_not(R"({"a": 1})") == "not-texts a");
  CHECK(why_not(R"({"a": 1.5})") == "not-texts a");
  CHECK(why_not(R"({"a": -1})") == "not-texts a");
  CHECK(why_not(R"({"a": null})") == "not-texts a");
  CHECK(why_not(R"({"a": true})") == "not-texts a");
  CHECK(why_not(R"({"a": ["b"]})") == "not-texts a");
  CHECK(why_not(R"({"a": {"b": "c"}})") == "not-texts a");
}

TEST_CASE("A key named twice is refused") {
  CHECK(why_not(R"({"a": "b", "c": "d", "a": "e"})") == "key-twice a");
}

TEST_CASE("A catalogue that is not UTF-8 is refused") {
  CHECK(why_not("{\"a\": \"P\xE4"
                "ckchen\"}") == "malformed 10");
  CHECK(why_not("{\"a\": \"\xC0\xAF\"}") == "malformed 8");
  CHECK(why_not("{\"a\": \"\xED\xA0\x80\"}") == "malformed 9");
}

TEST_CASE("A deeply nested catalogue is refused at its second level") {
  CHECK(why_not("{\"a\": " + std::string(1'000'000, '[')) == "not-texts a");
}
