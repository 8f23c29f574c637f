#include <algorithm>
#include <array>

#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

constexpr std::size_t kLargestFile = 1u << 20;  // bytes

struct Kind final {
  std::string_view ending;
  std::string_view content_type;
};
constexpr Kind kKinds[] = {{".js", "text/javascript; charset=utf-8"},
                           {".css", "text/css; charset=utf-8"},
                           {".svg", "image/svg+xml"}};

const Kind* kind_of(std::string_view name) {
  for (const Kind& kind : kKinds) {
    if (name.ends_with(kind.ending)) return &kind;
  }
  return nullptr;
}

// Nothing but a plain name of a file of that folder.
bool is_plain(std::string_view name) {
  return name.size() <= 60 && !name.starts_with('.') &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-_.") == std::string_view::npos;
}

}  // namespace

Response static_file(Visit& visit) {
  const std::string_view name = visit.parameter("file");
  const Kind* kind = kind_of(name);
  if (!kind || !is_plain(name)) return visit.failed({core::FailureCode::PageUnknown, {}, {}});
  const app::World& world = visit.desk.world();
  auto bytes = world.files.read(world.templates_folder + "/web/static/" + std::string{name}, kLargestFile);
  if (!bytes) return visit.failed({core::FailureCode::PageUnknown, {}, {}});
  Response response = visit.file(std::move(*bytes), kind->content_type);
  response.headers.emplace_back("Cache-Control", "max-age=60");
  return response;
}

}  // namespace loadlight::web
