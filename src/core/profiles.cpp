#include "loadlight/core/profiles.h"

#include <algorithm>
#include <charconv>

namespace loadlight::core {
namespace {

struct Version final {
  std::string_view profile;
  int number;
};
// Raise a profile's number with any change of its rows below.
constexpr Version kVersions[] = {
    {"us-cdc-2003", 4}, {"us-cdc-2008", 4}, {"ontario", 4}, {"uk", 4}, {"office", 4},
};

constexpr std::string_view kDental2003 = "CDC MMWR 52(RR-17) 2003";
constexpr std::string_view kOffice = "the office's own choice until it sets another; the careful one";
constexpr std::string_view kMargin =
    "van Doornmalen et al., issue 1/2020 (abstract): 134 C is met at a measured 134.5 C";
constexpr std::string_view kSteam = "EN 285, from memory: measured and theoretical temperature within 2 K";
constexpr std::string_view kBand =
    "EN 285 / EN 13060 bands, from memory: so a note, unless the office asks more";
constexpr std::string_view kBowieDick =
    "CDC 2008, as quoted: each day used, before the first load, dynamic air removal only";
constexpr std::string_view kNoLeak = "no source was read that asks it";
constexpr std::string_view kControl =
    "MMWR 52(RR-17) 2003 VI.F.6: a control of the same lot; invalid without, from memory";
constexpr std::string_view kEarly = "no source was read that allows it";
constexpr std::string_view kImplants =
    "MMWR 52(RR-17) 2003 VI.F.7: loads with implants; no other load is asked to wait";
constexpr std::string_view kPooled = "MMWR 52(RR-17) 2003, positive spore test: loads of the same sterilizer";
constexpr std::string_view kWrapFirst = "CDC FAQ: packages are labelled before they enter the sterilizer";
constexpr std::string_view kNoRank = "no source was read that asks for a rank";
constexpr std::string_view kNoLock = "no source was read that states a time; ours";
constexpr std::string_view kNoCopy =
    "no source was read that allows it: cut off from its record an office holds, unless it says otherwise";
constexpr std::string_view kNoRetention = "no number was read; state and local rules come first";

// A row a value: profile, name, value, source.
constexpr ProfileValue kValues[] = {
    {"us-cdc-2003", "wrapped-cap-months", "none",
     "MMWR 52(RR-17) 2003, Storage: date- or event-related, no cap"},
    {"us-cdc-2003", "unwrapped-cap-days", "none", "MMWR 52(RR-17) 2003, Storage: no cap"},
    {"us-cdc-2003", "biological", "weekly", "MMWR 52(RR-17) 2003 VI.F.6: at least weekly"},
    {"us-cdc-2003", "biological-chains", "pooled", kPooled},
    {"us-cdc-2003", "unreported-control", "invalid", kControl},
    {"us-cdc-2003", "tested-load-waits", "no", kImplants},
    {"us-cdc-2003", "early-release", "never", kEarly},
    {"us-cdc-2003", "air-removal-test", "daily", kBowieDick},
    {"us-cdc-2003", "leak-test", "off", kNoLeak},
    {"us-cdc-2003", "above-band", "note", kBand},
    {"us-cdc-2003", "sensor-margin-kelvin", "0.5", kMargin},
    {"us-cdc-2003", "steam-kelvin", "2", kSteam},
    {"us-cdc-2003", "procedure", "dental-2003", kDental2003},
    {"us-cdc-2003", "type-n-packing", "not-packed", kWrapFirst},
    {"us-cdc-2003", "retention-months", "none", kNoRetention},
    {"us-cdc-2003", "release-by", "anyone", kNoRank},
    {"us-cdc-2003", "emergency-by", "anyone", kNoRank},
    {"us-cdc-2003", "idle-lock-minutes", "10", kNoLock},
    {"us-cdc-2003", "local-copy-minutes", "0", kNoCopy},

    {"us-cdc-2008", "wrapped-cap-months", "none", "CDC Guideline 2008: contamination is event-related"},
    {"us-cdc-2008", "unwrapped-cap-days", "none", "CDC Guideline 2008: contamination is event-related"},
    {"us-cdc-2008", "biological", "weekly",
     "CDC Guideline 2008; AAMI ST79 2006 10.5.3.2: weekly, better daily"},
    {"us-cdc-2008", "biological-chains", "pooled",
     "CDC Guideline 2008, Table 12: since the last acceptable BI"},
    {"us-cdc-2008", "unreported-control", "invalid", kControl},
    {"us-cdc-2008", "tested-load-waits", "no", kImplants},
    {"us-cdc-2008", "early-release", "never", kEarly},
    {"us-cdc-2008", "air-removal-test", "daily", kBowieDick},
    {"us-cdc-2008", "leak-test", "off", kNoLeak},
    {"us-cdc-2008", "above-band", "note", kBand},
    {"us-cdc-2008", "sensor-margin-kelvin", "0.5", kMargin},
    {"us-cdc-2008", "steam-kelvin", "2", kSteam},
    {"us-cdc-2008", "procedure", "facility-2008", "CDC Guideline 2008, Table 12"},
    {"us-cdc-2008", "type-n-packing", "not-packed", kWrapFirst},
    {"us-cdc-2008", "retention-months", "36", "Joint Commission, as commonly cited: 3 years"},
    {"us-cdc-2008", "release-by", "anyone", kNoRank},
    {"us-cdc-2008", "emergency-by", "anyone", kNoRank},
    {"us-cdc-2008", "idle-lock-minutes", "10", kNoLock},
    {"us-cdc-2008", "local-copy-minutes", "0", kNoCopy},

    {"ontario", "wrapped-cap-months", "none",
     "RCDSO IPAC standard 2018: states what a label bears; no cap was read"},
    {"ontario", "unwrapped-cap-days", "none", "RCDSO IPAC standard 2018: no cap was read"},
    {"ontario", "biological", "daily", "PIDAC 2013, as listed: each day used, each type of cycle used"},
    {"ontario", "biological-chains", "per-program",
     "PIDAC 2013, as listed: for each cycle type used that day"},
    {"ontario", "unreported-control", "invalid", kControl},
    {"ontario", "tested-load-waits", "yes",
     "Canadian Dental Association Essentials 2020 issue 4 p. 28: a load with a BI waits, or is released by "
     "type 5 or 6"},
    {"ontario", "early-release", "without-implant",
     "Canadian Dental Association Essentials 2020 issue 4 p. 28: type 5 or 6 in the test package, no "
     "implant"},
    {"ontario", "air-removal-test", "daily", kBowieDick},
    {"ontario", "leak-test", "off", kNoLeak},
    {"ontario", "above-band", "note", kBand},
    {"ontario", "sensor-margin-kelvin", "0.5", kMargin},
    {"ontario", "steam-kelvin", "2", kSteam},
    {"ontario", "procedure", "conservative", "MMWR 52(RR-17) 2003: the conservative option"},
    {"ontario", "type-n-packing", "not-packed", kWrapFirst},
    {"ontario", "retention-months", "120", "RCDSO/CDHO, from memory: 10 years, the patient record's rule"},
    {"ontario", "release-by", "anyone", kNoRank},
    {"ontario", "emergency-by", "anyone", kNoRank},
    {"ontario", "idle-lock-minutes", "10", kNoLock},
    {"ontario", "local-copy-minutes", "0", kNoCopy},

    {"uk", "wrapped-cap-months", "12", "HTM 01-05 (2013) 2.4k(i): wrapped up to 1 year"},
    {"uk", "unwrapped-cap-days", "1", "HTM 01-05 (2013) 2.4k(ii): unwrapped in the clinical area 1 day"},
    {"uk", "biological", "off", "HTM 01-05, from memory: BI is not part of routine testing"},
    {"uk", "biological-chains", "pooled", kPooled},
    {"uk", "unreported-control", "invalid", kControl},
    {"uk", "tested-load-waits", "no", kImplants},
    {"uk", "early-release", "never", kEarly},
    {"uk", "air-removal-test", "daily", "HTM 01-05, as reported: daily steam penetration test, vacuum types"},
    {"uk", "leak-test", "weekly", "HTM 01-05, as reported: weekly air leakage test, vacuum types"},
    {"uk", "above-band", "note", kBand},
    {"uk", "sensor-margin-kelvin", "0.5", kMargin},
    {"uk", "steam-kelvin", "2", kSteam},
    {"uk", "procedure", "conservative",
     "MMWR 52(RR-17) 2003: the conservative option; HTM 01-05 states none"},
    {"uk", "type-n-packing", "after-program", "HTM 01-05 (2013): type B and S wrapped before, type N after"},
    {"uk", "retention-months", "24", "HTM 01-05 (2009) 4.3 p. 22, as reported: at least 2 years"},
    {"uk", "release-by", "anyone", kNoRank},
    {"uk", "emergency-by", "anyone", kNoRank},
    {"uk", "idle-lock-minutes", "10", kNoLock},
    {"uk", "local-copy-minutes", "0", kNoCopy},

    {"office", "wrapped-cap-months", "none", kOffice},
    {"office", "unwrapped-cap-days", "none", kOffice},
    {"office", "biological", "weekly", kOffice},
    {"office", "biological-chains", "pooled", kOffice},
    {"office", "unreported-control", "invalid", kOffice},
    {"office", "tested-load-waits", "no", kOffice},
    {"office", "early-release", "never", kOffice},
    {"office", "air-removal-test", "daily", kOffice},
    {"office", "leak-test", "off", kOffice},
    {"office", "above-band", "hold", kOffice},
    {"office", "sensor-margin-kelvin", "0.5", kOffice},
    {"office", "steam-kelvin", "2", kOffice},
    {"office", "procedure", "conservative", kOffice},
    {"office", "type-n-packing", "not-packed", kOffice},
    {"office", "retention-months", "none", kOffice},
    {"office", "release-by", "anyone", kOffice},
    {"office", "emergency-by", "lead", kOffice},
    {"office", "idle-lock-minutes", "10", kOffice},
    {"office", "local-copy-minutes", "0", kOffice},
};

// How each type of value is read from its text and shown again.
template <class Number>
bool read(std::string_view text, Number& place, Number least, Number most) {
  Number number{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size() || !(number >= least && number <= most)) {
    return false;
  }
  place = number;
  return true;
}
bool read(std::string_view text, std::optional<int>& place) {
  if (text == "none") {
    place.reset();
    return true;
  }
  int number = 0;
  if (!read(text, number, 1, 1200)) return false;
  place = number;
  return true;
}
bool read(std::string_view text, double& place) {
  return read(text, place, 0.0, 5.0);
}
bool read(std::string_view text, bool& place) {
  if (text != "yes" && text != "no") return false;
  place = text == "yes";
  return true;
}
template <class E>
requires requires {
  Vocabulary<E>::kTerms;
}
bool read(std::string_view text, E& place) {
  const auto term = parse<E>(text);
  if (term) place = *term;
  return term.has_value();
}

std::string shown(const std::optional<int>& value) {
  return value ? std::to_string(*value) : "none";
}
std::string shown(int value) {
  return std::to_string(value);
}
std::string shown(double value) {
  char text[32];
  return {text, std::to_chars(text, text + sizeof text, value).ptr};
}
std::string shown(bool value) {
  return value ? "yes" : "no";
}
template <class E>
requires requires {
  Vocabulary<E>::kTerms;
}
std::string shown(E value) {
  return std::string{to_text(value)};
}

struct Name final {
  std::string_view name;
  bool (*set)(Profile&, std::string_view);
  std::string (*get)(const Profile&);
};

template <auto Member>
constexpr Name named(std::string_view name) {
  return {name, [](Profile& p, std::string_view text) { return read(text, p.*Member); },
          [](const Profile& p) { return shown(p.*Member); }};
}

template <auto Member, int Least, int Most>
constexpr Name named_within(std::string_view name) {
  return {name, [](Profile& p, std::string_view text) { return read(text, p.*Member, Least, Most); },
          [](const Profile& p) { return shown(p.*Member); }};
}

// A row a name that profiles have a value for.
constexpr Name kNames[] = {
    named<&Profile::wrapped_cap_months>("wrapped-cap-months"),
    named<&Profile::unwrapped_cap_days>("unwrapped-cap-days"),
    named<&Profile::biological>("biological"),
    named<&Profile::chains>("biological-chains"),
    named<&Profile::unreported_control>("unreported-control"),
    named<&Profile::tested_load_waits>("tested-load-waits"),
    named<&Profile::early_release>("early-release"),
    named<&Profile::air_removal_test>("air-removal-test"),
    named<&Profile::leak_test>("leak-test"),
    named<&Profile::above_band>("above-band"),
    named<&Profile::sensor_margin_kelvin>("sensor-margin-kelvin"),
    named<&Profile::steam_kelvin>("steam-kelvin"),
    named<&Profile::procedure>("procedure"),
    named<&Profile::type_n_packing>("type-n-packing"),
    named<&Profile::retention_months>("retention-months"),
    named<&Profile::release_by>("release-by"),
    named<&Profile::emergency_by>("emergency-by"),
    named_within<&Profile::idle_lock_minutes, 1, 60>("idle-lock-minutes"),
    named_within<&Profile::local_copy_minutes, 0, kOldestCopyMinutes>("local-copy-minutes"),
};

const Name* find_name(std::string_view name) {
  const auto* row =
      std::find_if(std::begin(kNames), std::end(kNames), [&](const Name& each) { return each.name == name; });
  return row == std::end(kNames) ? nullptr : row;
}

std::vector<Profile> built_profiles() {
  std::vector<Profile> profiles;
  for (const Version& version : kVersions) {
    Profile& profile = profiles.emplace_back();
    profile.code = version.profile;
    profile.version = version.number;
    for (const ProfileValue& row : kValues) {
      if (row.profile == version.profile) set_value(profile, row.name, row.value);
    }
  }
  return profiles;
}

}  // namespace

std::span<const Profile> all_profiles() {
  static const std::vector<Profile> profiles = built_profiles();
  return profiles;
}

const Profile* find_profile(std::string_view code) {
  for (const Profile& profile : all_profiles()) {
    if (profile.code == code) return &profile;
  }
  return nullptr;
}

std::span<const ProfileValue> all_profile_values() {
  return kValues;
}

std::vector<std::string_view> profile_value_names() {
  std::vector<std::string_view> names;
  for (const Name& row : kNames) names.push_back(row.name);
  return names;
}

std::string value_of(const Profile& profile, std::string_view name) {
  const Name* row = find_name(name);
  return row ? row->get(profile) : "";
}

bool set_value(Profile& profile, std::string_view name, std::string_view value) {
  const Name* row = find_name(name);
  return row && row->set(profile, value);
}

Profile with_settings(Profile profile, std::span<const OfficeSetting> settings) {
  for (const OfficeSetting& setting : settings) {
    if (set_value(profile, setting.name, setting.value)) profile.own.push_back(setting.name);
  }
  return profile;
}

std::string Profile::text() const {
  std::string text = code + " " + std::to_string(version);
  for (const std::string& name : own) text += (&name == &own.front() ? ", own: " : " ") + name;
  return text;
}

std::optional<CivilDate> last_day_by_profile(const Profile& profile, Wrapping wrapping,
                                             CivilDate process_date) {
  if (is_wrapped(wrapping)) {
    if (!profile.wrapped_cap_months) return std::nullopt;
    return process_date.plus_months(*profile.wrapped_cap_months);
  }
  if (!profile.unwrapped_cap_days) return std::nullopt;
  return process_date.plus_days(*profile.unwrapped_cap_days);
}

}  // namespace loadlight::core
