// Cookies (RFC 6265): one that names the browser, one for the language it wants.
#pragma once

#include <string>
#include <string_view>

#include "web/http_message.h"

namespace loadlight::web {

inline constexpr std::string_view kBrowserCookie = "loadlight-browser";

Fields parse_cookies(std::string_view header);
// As we give them out: 26 characters of 0-9 and a-z.
bool is_browser_name(std::string_view text);
// The value of Set-Cookie: for scripts invisible, never sent along from another site.
std::string browser_cookie(std::string_view name, bool secure);

}  // namespace loadlight::web
