// Texts that whoever sends them chose: whatever they are, parsing ends, stays within them and keeps its promises.
// Each harness takes bytes as libFuzzer gives them, so that it can be run there; here they come from a seed.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdint>
#include <random>

#include "web/cookies.h"
#include "web/local_path.h"
#include "web/routes.h"

namespace {

using namespace loadlight;

void form_of(std::string_view text) {
  const auto fields = web::parse_form(text);
  if (!fields) return;
  REQUIRE(fields->all().size() <= 1000);
  std::string again;
  for (const auto& [name, value] : fields->all()) {
    REQUIRE(name.size() + value.size() <= text.size());
    again += "&" + web::url_escaped(name) + "=" + web::url_escaped(value);
  }
  const auto same = web::parse_form(again);
  REQUIRE(same);
  REQUIRE(same->all() == fields->all());
}

void cookies_of(std::string_view text) {
  const web::Fields cookies = web::parse_cookies(text);
  for (const auto& [name, value] : cookies.all()) {
    REQUIRE(name.find_first_of("=;") == std::string::npos);
    REQUIRE(value.find(';') == std::string::npos);
    REQUIRE((!web::is_browser_name(value) || value.size() == 26));
  }
}

void path_of(std::string_view text) {
  const std::string path = web::local_path(text);
  REQUIRE(path.starts_with('/'));
  REQUIRE_FALSE(path.starts_with("//"));
  REQUIRE(path.find_first_of("\r\n\\ :?#%") == std::string::npos);
  const auto match = web::find_route(web::Method::Get, text);
  if (!match) return;
  for (const auto& [name, value] : match->parameters) {
    REQUIRE_FALSE(value.empty());
    REQUIRE(value.find('/') == std::string::npos);
    REQUIRE((value != "." && value != ".."));
  }
}

void try_all(const std::uint8_t* data, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(data), size};
  form_of(text);
  cookies_of(text);
  path_of(text);
}

constexpr std::string_view kPieces[] = {"a", "=", "&", ";", "%", "%4", "%41", "%C3%AB", "%FF", "+", "/", "//", ".", "..",
                                        "check", "packages", "loadlight-browser=", " ", "\r\n", "\\", "\xC3", "{load}",
                                        "0123456789abcdefghijklmnop", "https:", "static"};

std::string drawn(std::mt19937& random) {
  std::string text;
  const auto length = std::uniform_int_distribution<int>{0, 40}(random);
  for (int i = 0; i < length; ++i) {
    if (random() % 4 == 0) {
      text.push_back(static_cast<char>(random() & 0xFF));
    } else {
      text += kPieces[random() % std::size(kPieces)];
    }
  }
  return text;
}

}  // namespace

TEST_CASE("no text that is sent breaks a parser's promise") {
  std::mt19937 random{20261128};
  for (int i = 0; i < 30000; ++i) {
    const std::string text = drawn(random);
    try_all(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
  }
}
