// Use cases: the profile's values as this office uses them, each with where it comes from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct ProfileLine final {
  std::string name;
  std::string value;
  std::string source;  // of the profile's value; for the office's own, why and by whom
  bool own = false;
};
struct ProfileView final {
  std::string profile;  // core::Profile::text()
  std::vector<ProfileLine> lines;
};
core::Result<ProfileView> show_profile(const Ports& ports);

struct SettingRequest final {
  std::string operator_code;  // a lead
  std::string name;
  std::string value;
  std::string why;
};
// BadValue for an unknown name or a value that it cannot take.
core::Result<ProfileView> set_profile_value(const Ports& ports, const SettingRequest& request);

struct AcceptProgramRequest final {
  std::string operator_code;  // a lead, who signs for values under the table's
  std::string program;
};
core::Result<core::OfficeProgram> accept_program(const Ports& ports, const AcceptProgramRequest& request);

}  // namespace loadlight::app
