// What an office keeps beside its tables: the sterilizers' service logs and programs, lots of indicators, and
// its own settings of the profile.
#pragma once

#include <optional>
#include <string>

#include "loadlight/core/dates.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// What a sterilizer's maker, or the office's own history, did to it.
enum class ServiceKind { Installed, Maintenance, Repair, Moved, OutOfService, Returned };

// A line of a sterilizer's service log.
struct ServiceEntry final {
  int number = 0;  // from 1, over the whole record
  std::string sterilizer;
  ServiceKind kind = ServiceKind::Maintenance;
  std::string note;
  bool counter_reset = false;         // its cycle counter began again
  std::optional<CivilDate> next_due;  // when the next maintenance is due
  std::string done_by;
  Instant done_at{};

  friend bool operator==(const ServiceEntry&, const ServiceEntry&) = default;
};

// A program as the sterilizer's maker states it; it governs the loads that name it.
enum class LoadKind { Wrapped, Textiles, Utensils, Any };

struct OfficeProgram final {
  std::string code;  // 1-8 code characters: no code of the program table looks like that
  std::string name;
  std::string sterilizer;
  LoadKind load_kind = LoadKind::Wrapped;
  double celsius = 0;           // 100 to 140, both included
  double exposure_minutes = 0;  // above 0, at most 120
  double drying_minutes = 0;    // 0 to 120
  std::string document;         // of the maker's instructions
  std::string page;
  std::string entered_by;
  Instant entered_at{};
  std::string accepted_by;  // the lead who signed for values under the table's; empty: nobody yet
  std::optional<CivilDate> retired_on;

  friend bool operator==(const OfficeProgram&, const OfficeProgram&) = default;
};

// Indicators and pouches are bought in lots that expire, and that their maker may call back.
enum class ConsumableKind { Chemical, AirRemoval, Biological, Pouch };

struct Consumable final {
  std::string lot;  // 1-40 printable characters
  ConsumableKind kind = ConsumableKind::Chemical;
  std::string name;
  CivilDate expires = *CivilDate::from(1900, 1, 1);  // its own day still counts
  std::optional<CivilDate> retired_on;

  friend bool operator==(const Consumable&, const Consumable&) = default;
};

// A value of the profile that the office set itself.
struct OfficeSetting final {
  std::string name;  // profiles.h: profile_value_names()
  std::string value;
  std::string why;
  std::string set_by;
  Instant set_at{};

  friend bool operator==(const OfficeSetting&, const OfficeSetting&) = default;
};

template <>
struct Vocabulary<ServiceKind> {
  static constexpr Term<ServiceKind> kTerms[] = {{ServiceKind::Installed, "installed"},
                                                 {ServiceKind::Maintenance, "maintenance"},
                                                 {ServiceKind::Repair, "repair"},
                                                 {ServiceKind::Moved, "moved"},
                                                 {ServiceKind::OutOfService, "out-of-service"},
                                                 {ServiceKind::Returned, "returned"}};
};
template <>
struct Vocabulary<LoadKind> {
  static constexpr Term<LoadKind> kTerms[] = {{LoadKind::Wrapped, "wrapped"},
                                              {LoadKind::Textiles, "textiles"},
                                              {LoadKind::Utensils, "utensils"},
                                              {LoadKind::Any, "any"}};
};
template <>
struct Vocabulary<ConsumableKind> {
  static constexpr Term<ConsumableKind> kTerms[] = {{ConsumableKind::Chemical, "chemical"},
                                                    {ConsumableKind::AirRemoval, "air-removal"},
                                                    {ConsumableKind::Biological, "biological"},
                                                    {ConsumableKind::Pouch, "pouch"}};
};

}  // namespace loadlight::core
