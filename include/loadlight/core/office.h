// The office and its tables: who works here, with which sterilizers, on what, packed how, kept where,
// labelled with which stock. Entries are added and retired, never edited and never deleted, so that an old
// label always means what it meant.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// The office's own settings.
struct Office final {
  std::string name;
  std::string zone = "UTC";            // IANA time zone name
  std::string profile = "us-cdc-2003"; // a row of the profile table (profiles.h)
  std::string language = "en";         // a catalogue of templates/words
  std::optional<int> shelf_life_days;  // 1 to 3650; none: event-related shelf life
  int clock_tolerance_minutes = 15;    // how far the clock may lie behind the newest event
  int near_days = 14;                  // "use soon" begins this many days before the use-by day
  Instant made_at{};

  friend bool operator==(const Office&, const Office&) = default;
};

enum class Role { Staff, Lead };

struct Operator final {
  std::string code;  // initials, 1-4 code characters
  std::string name;
  Role role = Role::Staff;
  CivilDate first_day = *CivilDate::from(1900, 1, 1);
  std::optional<CivilDate> last_day;  // included

  bool current_on(CivilDate day) const { return first_day <= day && (!last_day || day <= *last_day); }
  friend bool operator==(const Operator&, const Operator&) = default;
};

// How air leaves the chamber: displaced by gravity, or pumped out (dynamic air removal).
enum class AirRemoval { Gravity, Dynamic };

// Types of small steam sterilizer (EN 13060): N solid unwrapped, S as its maker states, B all loads.
enum class SterilizerType { N, S, B };

struct Sterilizer final {
  std::string code;  // 1-3 code characters
  std::string name;
  AirRemoval removal = AirRemoval::Gravity;
  SterilizerType type = SterilizerType::N;
  bool in_service = true;
  std::optional<CivilDate> retired_on;

  friend bool operator==(const Sterilizer&, const Sterilizer&) = default;
};

// What goes into a package.
struct Contents final {
  std::string code;  // 1-8 code characters
  std::string name;  // any script
  std::vector<std::string> items;
  bool implant = false;
  bool hinged = false;
  bool not_stainless = false;
  bool hollow = false;
  std::optional<CivilDate> retired_on;

  friend bool operator==(const Contents&, const Contents&) = default;
};

enum class Wrapping { Pouch, DoubleWrap, WrappedCassette, RigidContainer, Unwrapped };

inline bool is_wrapped(Wrapping wrapping) { return wrapping != Wrapping::Unwrapped; }

struct PackageKind final {
  std::string code;  // 1-3 code characters
  std::string name;
  Wrapping wrapping = Wrapping::Pouch;
  std::optional<CivilDate> retired_on;

  friend bool operator==(const PackageKind&, const PackageKind&) = default;
};

struct Location final {
  std::string code;  // 1-8 code characters
  std::string name;
  std::optional<CivilDate> retired_on;

  friend bool operator==(const Location&, const Location&) = default;
};

enum class PrintMethod { DirectThermal, ThermalTransfer, Laser, Inkjet };

// Why a stock may go through steam: not known yet, its maker's data sheet, or the office's own recorded
// before-and-after trial.
enum class SteamRating { Unrated, MakerSheet, Trial };

struct LabelStock final {
  std::string code;  // 1-8 code characters
  std::string name;
  PrintMethod method = PrintMethod::ThermalTransfer;
  int dpi = 300;  // 100 to 1200, both included
  SteamRating rating = SteamRating::Unrated;
  std::string rating_note;  // the sheet's title and page, or what the trial showed
  std::optional<CivilDate> retired_on;

  friend bool operator==(const LabelStock&, const LabelStock&) = default;
};

template <>
struct Vocabulary<Role> {
  static constexpr Term<Role> kTerms[] = {{Role::Staff, "staff"}, {Role::Lead, "lead"}};
};
template <>
struct Vocabulary<AirRemoval> {
  static constexpr Term<AirRemoval> kTerms[] = {{AirRemoval::Gravity, "gravity"},
                                                {AirRemoval::Dynamic, "dynamic"}};
};
template <>
struct Vocabulary<SterilizerType> {
  static constexpr Term<SterilizerType> kTerms[] = {
      {SterilizerType::N, "N"}, {SterilizerType::S, "S"}, {SterilizerType::B, "B"}};
};
template <>
struct Vocabulary<Wrapping> {
  static constexpr Term<Wrapping> kTerms[] = {{Wrapping::Pouch, "pouch"},
                                              {Wrapping::DoubleWrap, "double-wrap"},
                                              {Wrapping::WrappedCassette, "wrapped-cassette"},
                                              {Wrapping::RigidContainer, "rigid-container"},
                                              {Wrapping::Unwrapped, "unwrapped"}};
};
template <>
struct Vocabulary<PrintMethod> {
  static constexpr Term<PrintMethod> kTerms[] = {{PrintMethod::DirectThermal, "direct-thermal"},
                                                 {PrintMethod::ThermalTransfer, "thermal-transfer"},
                                                 {PrintMethod::Laser, "laser"},
                                                 {PrintMethod::Inkjet, "inkjet"}};
};
template <>
struct Vocabulary<SteamRating> {
  static constexpr Term<SteamRating> kTerms[] = {{SteamRating::Unrated, "unrated"},
                                                 {SteamRating::MakerSheet, "maker-sheet"},
                                                 {SteamRating::Trial, "trial"}};
};

}  // namespace loadlight::core
