#include "web/profile_view.h"

#include "loadlight/core/profiles.h"

namespace loadlight::web {

View profile_value_view(const Visit& visit, const app::ProfileLine& line) {
  const std::string key = "profile-value." + line.name;
  const std::string in_words = key + "." + line.value;
  const std::string plain = "profile-value.any." + line.value;
  const auto& words = visit.language.words;
  return {{"name", line.name},
          {"meaning", visit.word(key)},
          {"value", words.has(in_words) ? visit.word(in_words) : words.has(plain) ? visit.word(plain) : line.value},
          {"given", line.value},
          {"source", line.source},
          {"own", line.own}};
}

View profiles_view(const Visit& visit, std::string_view chosen) {
  View list = View::array();
  for (const core::Profile& profile : core::all_profiles()) {
    View values = View::array();
    for (const core::ProfileValue& row : core::all_profile_values()) {
      if (row.profile != profile.code) continue;
      values.push_back(profile_value_view(
          visit, {std::string{row.name}, std::string{row.value}, std::string{row.source}, false}));
    }
    list.push_back({{"code", profile.code},
                    {"name", visit.word("profile." + profile.code + ".name")},
                    {"meaning", visit.word("profile." + profile.code + ".meaning")},
                    {"selected", profile.code == chosen},
                    {"values", values}});
  }
  return list;
}

}  // namespace loadlight::web
