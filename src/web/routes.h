// Every address of the station, one row each.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "web/visit.h"

namespace loadlight::web {

// Who may come in.
enum class Door {
  Anyone,    // looking and checking
  SignedIn,  // packing, opening, shelving: a badge or a PIN
  Pin,       // release, override, set-up: a PIN given a short while ago
};

enum class Body {
  None,
  Form,   // a form, up to 256 KB
  Frame,  // a picture of a camera, up to 6 MB
  File,   // a table, a cycle log, a photograph: up to 64 MB
  Video,  // up to 8 GB, into a file
};

struct Route final {
  Method method;
  std::string_view pattern;  // "/loads/{load}": a name in braces stands for one segment
  Door door;
  Body body;
  Response (*answer)(Visit& visit);
  // Works without an office: the page that makes one, and what the pages are made of.
  bool without_office = false;
};

std::span<const Route> all_routes();

struct Match final {
  const Route* route = nullptr;
  std::map<std::string, std::string, std::less<>> parameters;
};
// The first row that fits. Segments are never empty, "." or "..".
std::optional<Match> find_route(Method method, std::string_view path);
// True iff some row has this path for another method.
bool is_for_another_method(Method method, std::string_view path);

}  // namespace loadlight::web
