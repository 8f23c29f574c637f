#include "web/cookies.h"

#include <algorithm>

namespace loadlight::web {

Fields parse_cookies(std::string_view header) {
  Fields cookies;
  while (!header.empty()) {
    std::string_view pair = header.substr(0, header.find(';'));
    header.remove_prefix(std::min(header.size(), pair.size() + 1));
    while (pair.starts_with(' ')) pair.remove_prefix(1);
    const auto equals = pair.find('=');
    if (equals == std::string_view::npos) continue;
    cookies.add(std::string{pair.substr(0, equals)}, std::string{pair.substr(equals + 1)});
  }
  return cookies;
}

bool is_browser_name(std::string_view text) {
  return text.size() == 26 &&
         text.find_first_not_of("0123456789abcdefghijklmnopqrstuvwxyz") == std::string_view::npos;
}

std::string browser_cookie(std::string_view name, bool secure) {
  return std::string{kBrowserCookie} + "=" + std::string{name} + "; Path=/; HttpOnly; SameSite=Strict" +
         (secure ? "; Secure" : "");
}

}  // namespace loadlight::web
