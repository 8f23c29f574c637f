#include "web/http_message.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>

using namespace loadlight;
using web::parse_form;
using web::url_escaped;

namespace {

std::string value(std::string_view text, std::string_view name = "a") {
  const auto fields = parse_form(text);
  REQUIRE(fields);
  return std::string{fields->value(name)};
}

}  // namespace

TEST_CASE("a form's escapes are undone once") {
  CHECK(value("a=x+y") == "x y");
  CHECK(value("a=x%20y%2B%26%3D") == "x y+&=");
  CHECK(value("a=%2526") == "%26");
  CHECK(value("%61=1") == "1");
  CHECK(value("a=Zo%C3%AB") == "Zoë");
  CHECK(value("a=%F0%9F%A6%B7") == "\xF0\x9F\xA6\xB7");
}

TEST_CASE("a percent sign that begins no escape stands for itself") {
  CHECK(value("a=100%") == "100%");
  CHECK(value("a=%4") == "%4");
  CHECK(value("a=%GG%zz") == "%GG%zz");
}

TEST_CASE("pairs are taken apart at the first equals sign and empty ones are passed over") {
  CHECK(value("a=b=c") == "b=c");
  CHECK(value("a") == "");
  CHECK(value("&&a=1&") == "1");
  CHECK(value("=x&a=1", "") == "x");
  CHECK(parse_form("")->all().empty());
}

TEST_CASE("the first of a name counts and all can be had") {
  const auto fields = parse_form("a=1&b=2&a=3");
  REQUIRE(fields);
  CHECK(fields->value("a") == "1");
  CHECK(fields->values("a") == std::vector<std::string>{"1", "3"});
  CHECK_FALSE(fields->find("c"));
  CHECK(fields->value("c").empty());
}

TEST_CASE("bytes that are no text make no form") {
  for (const char* bad : {"a=%FF", "a=%C3", "a=%C3%28", "a=%C0%AF", "a=%E0%80%AF", "a=%ED%A0%80", "a=%F4%90%80%80",
                          "a=%80", "%FF=a", "a=\xC3\x28", "a=%F8%88%80%80%80"}) {
    INFO(bad);
    CHECK_FALSE(parse_form(bad));
  }
}

TEST_CASE("more fields than anybody needs make no form") {
  std::string text;
  for (int i = 0; i < 1000; ++i) text += "a=1&";
  CHECK(parse_form(text));
  CHECK_FALSE(parse_form(text + "a=1"));
  CHECK_FALSE(parse_form("a=1&b=2", 1));
}

TEST_CASE("what is escaped for an address comes back through a form") {
  std::string every;
  for (int c = 1; c < 128; ++c) every.push_back(static_cast<char>(c));
  every += "Zoë <\"'&>";
  const std::string escaped = url_escaped(every);
  CHECK(escaped.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.%") ==
        std::string::npos);
  CHECK(value("a=" + escaped) == every);
}

TEST_CASE("an uploaded file goes with whoever held it last") {
  const std::string path = std::string{LOADLIGHT_BINARY_DIR} + "/uploaded-file-test";
  std::ofstream{path} << "x";
  { const web::UploadedFile file{path}; }
  CHECK_FALSE(std::filesystem::exists(path));
}
