#include "web/routes.h"

#include <catch2/catch.hpp>

#include <vector>

using namespace loadlight;
using web::find_route;
using web::Method;
using web::Route;

namespace {

std::vector<std::string> segments_of(std::string_view path) {
  std::vector<std::string> segments{""};
  for (const char c : path.substr(1)) {
    if (c == '/') {
      segments.emplace_back();
    } else {
      segments.back().push_back(c);
    }
  }
  return segments;
}

bool is_name(const std::string& segment) {
  return segment.starts_with('{');
}

// A path both patterns fit; empty if there is none.
std::string common_path(const Route& one, const Route& other) {
  const auto a = segments_of(one.pattern);
  const auto b = segments_of(other.pattern);
  if (one.method != other.method || a.size() != b.size()) return {};
  std::string path;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (!is_name(a[i]) && !is_name(b[i]) && a[i] != b[i]) return {};
    path += "/" + (is_name(a[i]) ? is_name(b[i]) ? "X1" : b[i] : a[i]);
  }
  return path;
}

std::string filled(std::string_view pattern) {
  std::string path;
  for (const std::string& segment : segments_of(pattern)) path += "/" + (is_name(segment) ? "X1" : segment);
  return path;
}

}  // namespace

TEST_CASE("no two rows fit one path") {
  const auto routes = web::all_routes();
  for (std::size_t i = 0; i < routes.size(); ++i) {
    for (std::size_t j = i + 1; j < routes.size(); ++j) {
      INFO(routes[i].pattern << " and " << routes[j].pattern);
      CHECK(common_path(routes[i], routes[j]) == "");
    }
  }
}

TEST_CASE("every row is found by its own path with what stands for its names") {
  for (const Route& route : web::all_routes()) {
    INFO(route.pattern);
    const auto match = find_route(route.method, filled(route.pattern));
    REQUIRE(match);
    CHECK(match->route == &route);
    for (const auto& [name, value] : match->parameters) {
      CHECK(route.pattern.find("{" + name + "}") != std::string_view::npos);
      CHECK(value == "X1");
    }
    CHECK(route.answer != nullptr);
  }
}

TEST_CASE("rows say what they mean: a path without an end and a body only where something is posted") {
  for (const Route& route : web::all_routes()) {
    INFO(route.pattern);
    CHECK(route.pattern.starts_with('/'));
    CHECK((route.pattern == "/" || !route.pattern.ends_with('/')));
    CHECK((route.method == Method::Post) == (route.body != web::Body::None));
  }
}

TEST_CASE("paths that lead elsewhere fit no row") {
  for (const char* path : {"", "check", "//check", "/check/", "/static/", "/static/.", "/static/..", "/static/a/b",
                           "/static/../check", "/./check", "/check/../check", "/nothing"}) {
    INFO(path);
    CHECK_FALSE(find_route(Method::Get, path));
  }
  CHECK_FALSE(find_route(Method::Other, "/check"));
  CHECK_FALSE(find_route(Method::Post, "/check"));
  CHECK(web::is_for_another_method(Method::Post, "/check"));
  CHECK_FALSE(web::is_for_another_method(Method::Get, "/check"));
}
