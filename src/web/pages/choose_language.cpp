#include <algorithm>

#include "web/local_path.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response choose_language(Visit& visit) {
  const std::string wanted{visit.asked("to")};
  Response response = visit.go_to(local_path(visit.asked("back")));
  const bool known = std::any_of(std::begin(kLanguages), std::end(kLanguages),
                                 [&](const auto& language) { return language.first == wanted; });
  if (known) {
    response.headers.emplace_back("Set-Cookie", "loadlight-language=" + wanted +
                                                    "; Path=/; Max-Age=31536000; SameSite=Strict");
  }
  return response;
}

}  // namespace loadlight::web
