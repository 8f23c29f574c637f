// The path of a request, and which page it leads to.
//
// Promises: what stands for a name in a route is one whole segment and never "", "." or ".."; the route with its names
// filled in is the path; the door of a page does not depend on how its path is spelled.
//
// The pages themselves are not linked: no route is answered here.
#include <algorithm>

#include "fuzz_input.h"
#include "web/routes.h"

namespace loadlight::fuzz {
namespace {

using namespace web;

std::string filled(const Match& match) {
  std::string path{match.route->pattern};
  for (const auto& [name, value] : match.parameters) {
    const std::string gap = "{" + name + "}";
    path.replace(path.find(gap), gap.size(), value);
  }
  return path;
}

void must_hold(const Match& match, Method method, std::string_view path) {
  promise(match.route->method == method, "a route is one of the method");
  for (const auto& [name, value] : match.parameters) {
    promise(!value.empty() && value != "." && value != "..", "a name stands for something");
    promise(value.find('/') == std::string::npos, "a name stands for one segment");
  }
  const auto names = std::count(match.route->pattern.begin(), match.route->pattern.end(), '{');
  promise(static_cast<std::size_t>(names) == match.parameters.size(), "every name stands for something");
  if (path.find('{') == std::string_view::npos) promise(filled(match) == path, "a route filled in is the path");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view path = fuzz::Input{data, size}.rest();
  bool is_known = false;
  for (const auto method : {web::Method::Get, web::Method::Post}) {
    const auto match = web::find_route(method, path);
    if (match) fuzz::must_hold(*match, method, path);
    is_known = is_known || match.has_value();
  }
  fuzz::promise(!web::find_route(web::Method::Other, path), "there is no page for other methods");
  fuzz::promise(web::is_for_another_method(web::Method::Other, path) == is_known, "a page is known by its path");
  return 0;
}
