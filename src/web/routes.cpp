#include "web/routes.h"

#include <algorithm>
#include <vector>

#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

constexpr Method kGet = Method::Get;
constexpr Method kPost = Method::Post;

constexpr Route kRoutes[] = {
    // The frame of every page: pages/static_files.cpp, pages/live.cpp, pages/language.cpp
    {kGet, "/static/{file}", Door::Anyone, Body::None, static_file, true},
    {kGet, "/live", Door::Anyone, Body::None, live},
    {kGet, "/language", Door::Anyone, Body::None, choose_language, true},
    // Signing in and out: pages/sign_in_page.cpp
    {kGet, "/sign-in", Door::Anyone, Body::None, sign_in_page},
    {kPost, "/sign-in", Door::Anyone, Body::Form, sign_in},
    {kPost, "/sign-in/badge", Door::Anyone, Body::Form, sign_in_by_badge},
    {kPost, "/sign-in/switch", Door::Anyone, Body::Form, switch_operator},
    {kPost, "/sign-out", Door::Anyone, Body::Form, sign_out},
    // What is to be done now: pages/today.cpp
    {kGet, "/", Door::Anyone, Body::None, today},
    // May it be opened: pages/check_page.cpp, pages/check_again.cpp. Without an office they hold.
    {kGet, "/check", Door::Anyone, Body::None, check_page, true},
    {kPost, "/check/frame", Door::Anyone, Body::Frame, check_frame, true},
    {kPost, "/check/text", Door::Anyone, Body::Form, check_text, true},
    {kGet, "/check/again", Door::Anyone, Body::None, check_again, true},
};

std::vector<std::string_view> segments_of(std::string_view path) {
  std::vector<std::string_view> segments;
  path.remove_prefix(std::min<std::size_t>(1, path.size()));
  while (!path.empty()) {
    const auto end = std::min(path.find('/'), path.size());
    segments.push_back(path.substr(0, end));
    path.remove_prefix(std::min(end + 1, path.size()));
  }
  return segments;
}

bool is_name(std::string_view segment) {
  return segment.starts_with('{') && segment.ends_with('}');
}

std::optional<Match> fits(const Route& route, std::string_view path) {
  const auto wanted = segments_of(route.pattern);
  const auto given = segments_of(path);
  if (!path.starts_with('/') || wanted.size() != given.size()) return std::nullopt;
  Match match{&route, {}};
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const bool plain = !given[i].empty() && given[i] != "." && given[i] != "..";
    if (!is_name(wanted[i]) && wanted[i] != given[i]) return std::nullopt;
    if (!plain) return std::nullopt;
    if (is_name(wanted[i])) {
      match.parameters.emplace(wanted[i].substr(1, wanted[i].size() - 2), given[i]);
    }
  }
  return match;
}

}  // namespace

std::span<const Route> all_routes() {
  return kRoutes;
}

std::optional<Match> find_route(Method method, std::string_view path) {
  for (const Route& route : kRoutes) {
    if (route.method != method) continue;
    if (auto match = fits(route, path)) return match;
  }
  return std::nullopt;
}

bool is_for_another_method(Method method, std::string_view path) {
  return std::any_of(std::begin(kRoutes), std::end(kRoutes), [&](const Route& route) {
    return route.method != method && fits(route, path).has_value();
  });
}

}  // namespace loadlight::web
