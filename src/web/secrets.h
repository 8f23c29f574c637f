// Texts that nobody can guess, by libsodium, which is seen nowhere else here.
#pragma once

#include <string>
#include <string_view>

namespace loadlight::web {

// 26 characters of 0-9 and a-z: 130 bits from the system's own source.
std::string random_name();

// Forms of one browser that go to one path carry this text; another site's page cannot know it.
class FormSeal final {
 public:
  FormSeal();
  std::string token(std::string_view cookie, std::string_view path) const;
  // Takes the same time wherever the difference lies.
  bool fits(std::string_view given, std::string_view cookie, std::string_view path) const;

 private:
  std::string key_;  // of this run of the station
};

}  // namespace loadlight::web
