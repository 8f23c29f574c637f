#include "web/cookies.h"

#include <catch2/catch.hpp>

#include "web/local_path.h"

using namespace loadlight;
using web::local_path;
using web::parse_cookies;

TEST_CASE("cookies are read by name") {
  const auto cookies = parse_cookies("a=1; loadlight-browser=x=y;b=; c");
  CHECK(cookies.value("a") == "1");
  CHECK(cookies.value("loadlight-browser") == "x=y");
  CHECK(cookies.find("b") == std::string_view{});
  CHECK_FALSE(cookies.find("c"));
  CHECK(parse_cookies("").all().empty());
  CHECK(parse_cookies(";;; ;=").all().size() == 1);
}

TEST_CASE("a browser's name is as we give it out and nothing else") {
  const std::string name = "0123456789abcdefghijklmnop";
  CHECK(web::is_browser_name(name));
  for (const std::string& bad : {std::string{}, name + "q", name.substr(1), "A" + name.substr(1), " " + name.substr(1),
                                 name.substr(1) + "\n"}) {
    INFO(bad);
    CHECK_FALSE(web::is_browser_name(bad));
  }
}

TEST_CASE("the cookie is out of reach of scripts and of other sites") {
  const std::string cookie = web::browser_cookie("abc", false);
  CHECK(cookie == "loadlight-browser=abc; Path=/; HttpOnly; SameSite=Strict");
  CHECK(web::browser_cookie("abc", true) == cookie + "; Secure");
}

TEST_CASE("only paths of this station are gone back to") {
  for (const char* ours : {"/", "/check", "/loads/S1-12", "/packages/0123ABCD/open", "/a.b_c-d"}) {
    CHECK(local_path(ours) == ours);
  }
  for (const char* other : {"", "check", "//elsewhere.example", "https://elsewhere.example", "/\\elsewhere.example",
                            "/a?b", "/a#b", "/a b", "/a\r\nb", "/%2f", "javascript:alert(1)", "/a:b", "/@x"}) {
    INFO(other);
    CHECK(local_path(other) == "/");
  }
  CHECK(local_path("/" + std::string(199, 'a')).size() == 200);
  CHECK(local_path("/" + std::string(200, 'a')) == "/");
}
