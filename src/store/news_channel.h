// Where an office's stations tell each other that its record has changed; nothing else is said there.
#pragma once

#include <string>

namespace loadlight::store {

inline std::string news_channel(const std::string& office_number) {
  return "loadlight_office_" + office_number;
}

}  // namespace loadlight::store
