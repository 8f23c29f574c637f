// Where a browser is to go on to, as a request named it.
#pragma once

#include <string>
#include <string_view>

namespace loadlight::web {

// `given` if it is a path of this station and nothing else; else "/".
inline std::string local_path(std::string_view given) {
  const bool plain = given.starts_with('/') && !given.starts_with("//") && given.size() <= 200 &&
                     given.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./") ==
                         std::string_view::npos;
  return plain ? std::string{given} : "/";
}

}  // namespace loadlight::web
