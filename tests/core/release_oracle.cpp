#include "core/release_oracle.h"

#include <array>
#include <cstdint>
#include <limits>

namespace loadlight::core {
namespace {

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();
constexpr double kNoEnd = std::numeric_limits<double>::infinity();
const std::optional<bool> kAnswers[] = {std::nullopt, false, true};

bool is_measurable(double value) {
  return value > 0 && value < kNoEnd;
}

// Temperature of saturated steam, interpolated in the table of the facts (IAPWS-IF97, computed): good to
// 0.1 K, which is finer than any bound tried here.
double saturated(double kpa) {
  constexpr double kTable[][2] = {{101.42, 100}, {169.18, 115}, {186.40, 118}, {205.04, 121},
                                  {225.17, 124}, {239.46, 126}, {262.27, 129}, {286.82, 132},
                                  {304.20, 134}, {313.20, 135}, {331.85, 137}};
  for (std::size_t i = 1; i < std::size(kTable); ++i) {
    if (kpa > kTable[i][0]) continue;
    const double share = (kpa - kTable[i - 1][0]) / (kTable[i][0] - kTable[i - 1][0]);
    return kTable[i - 1][1] + share * (kTable[i][1] - kTable[i - 1][1]);
  }
  return 1000;
}

bool has_whole_readings(const LoadFacts& f) {
  const Readings& r = *f.readings;
  const bool drying_known = !r.drying_minutes || (*r.drying_minutes > -kNoEnd && *r.drying_minutes < kNoEnd);
  return is_measurable(r.low_celsius) && is_measurable(r.high_celsius) && is_measurable(r.minutes) &&
         is_measurable(r.pressure_kpa) && r.low_celsius <= r.high_celsius && drying_known;
}

void add_mechanical(const LoadFacts& f, ReasonSet& set) {
  if (!f.readings) {
    add(set, Reason::MechanicalEvidenceMissing);
    return;
  }
  if (!f.program || !f.profile || !f.holds_wrapped) return;
  if (!has_whole_readings(f)) {
    add(set, Reason::MechanicalEvidenceIncomplete);
    return;
  }
  const Readings& r = *f.readings;
  const bool hot_enough = r.low_celsius >= f.program->celsius;
  const bool long_enough = r.minutes >= f.program->exposure_minutes;
  if (!hot_enough || !long_enough) add(set, Reason::ExposureShort);
  const double steam = saturated(r.pressure_kpa);
  if (steam < r.low_celsius - 2 || steam > r.high_celsius + 2) add(set, Reason::SteamNotSaturated);
  if (r.high_celsius > f.program->celsius + 3 && f.profile->above_band == AboveBand::Hold) {
    add(set, Reason::TemperatureAboveBand);
  }
  if (*f.holds_wrapped && f.program->drying_minutes > 0) {
    const bool dried = r.drying_minutes && *r.drying_minutes >= f.program->drying_minutes;
    if (!dried) add(set, Reason::DryingShort);
  }
}

void add_program(const LoadFacts& f, ReasonSet& set) {
  if (!f.program || !f.removal || !f.type || !f.holds_wrapped || !f.holds_hollow) return;
  if (f.program->removal && *f.program->removal != *f.removal) add(set, Reason::ProgramNotAllowed);
  if (*f.type == SterilizerType::N && (*f.holds_wrapped || *f.holds_hollow)) {
    add(set, Reason::ProgramNotAllowed);
  }
  if (!f.program->accepted) add(set, Reason::ProgramNotAllowed);
}

// In date, and of the same kind as one that was not.
bool replaced_in_date(const LoadFacts& f, const IndicatorReading& expired) {
  for (const IndicatorReading& i : f.indicators) {
    const bool same_kind = i.place == expired.place && i.type == expired.type && i.package == expired.package;
    if (same_kind && !(i.expires < *f.process_date)) return true;
  }
  return false;
}

void add_chemical(const LoadFacts& f, ReasonSet& set) {
  bool read = false;
  for (const IndicatorReading& i : f.indicators) {
    read = read || (i.place == IndicatorPlace::External && !i.package && i.type != 2);
    if (!i.passed && !i.package) add(set, Reason::ExternalIndicatorFailed);
    const bool expired = f.process_date && *f.process_date >= i.expires.plus_days(1);
    if (expired && !replaced_in_date(f, i)) add(set, Reason::ConsumableExpired);
  }
  if (!read) add(set, Reason::ExternalIndicatorUnread);
}

// An indicator of a lot that was recalled proves nothing; a chemical one of a good lot beside it does.
void add_recalled(const LoadFacts& f, ReasonSet& set) {
  if (!f.recalled_lots) return;
  const auto bad = [&f](const std::string& lot) {
    for (const std::string& each : *f.recalled_lots) {
      if (each == lot) return true;
    }
    return false;
  };
  for (const IndicatorReading& i : f.indicators) {
    bool good_one_beside = false;
    for (const IndicatorReading& o : f.indicators) {
      good_one_beside |= o.place == i.place && o.type == i.type && o.package == i.package && !bad(o.lot);
    }
    if (bad(i.lot) && !good_one_beside) add(set, Reason::ConsumableRecalled);
  }
  for (const BiologicalRun& r : f.biological_runs) {
    if (bad(r.lot) || bad(r.control_lot)) add(set, Reason::ConsumableRecalled);
  }
  for (const BiologicalReading& b : f.biologicals) {
    if (bad(b.lot) || bad(b.control_lot)) add(set, Reason::ConsumableRecalled);
  }
}

// Indicators that nobody recorded as placed are taken for one, whose newest entry counts; a growth always
// counts.
void add_biological(const LoadFacts& f, ReasonSet& set) {
  bool grew = false;
  for (const BiologicalReading& b : f.biologicals) grew = grew || b.test == BiologicalTest::Growth;
  if (grew) add(set, Reason::BiologicalPositive);
  bool proven = false;
  if (!f.biologicals.empty() && !grew) {
    const BiologicalReading& newest = f.biologicals.back();
    const bool control_grew = newest.control == BiologicalControl::Growth && newest.control_lot == newest.lot;
    proven = newest.test == BiologicalTest::NoGrowth && control_grew;
    if (newest.test == BiologicalTest::NoGrowth && !control_grew && f.profile)
      add(set, Reason::BiologicalInvalid);
  }
  if (!f.holds_implant || !f.profile) return;
  const bool tested_and_waits = f.profile->tested_load_waits && !f.biologicals.empty();
  if ((*f.holds_implant || tested_and_waits) && !proven) add(set, Reason::BiologicalAwaited);
}

}  // namespace

bool every_fact_is_present(const LoadFacts& f) {
  return f.program && f.removal && f.type && f.in_service && f.holds_wrapped && f.holds_hollow &&
         f.holds_implant && f.wet_packages && f.clock_behind && (f.process_date || f.indicators.empty()) &&
         f.profile && f.daily_test && f.in_open_incident && f.recalled_lots;
}

ReasonSet expected_reasons(const LoadFacts& f) {
  ReasonSet set;
  if (f.state == LoadState::Running) add(set, Reason::LoadRunning);
  if (f.state == LoadState::Aborted) add(set, Reason::LoadAborted);
  if (f.clock_behind == true) add(set, Reason::ClockBehindRecord);
  if (f.in_service == false) add(set, Reason::SterilizerOutOfService);
  if (f.wet_packages && *f.wet_packages > 1) add(set, Reason::WetPackages);
  if (f.in_open_incident == true) add(set, Reason::IncidentOpen);
  if (f.daily_test == DailyTest::Missing) add(set, Reason::DailyTestMissing);
  if (f.daily_test == DailyTest::Failed) add(set, Reason::DailyTestFailed);
  add_mechanical(f, set);
  add_program(f, set);
  add_chemical(f, set);
  add_recalled(f, set);
  add_biological(f, set);
  const bool ended = f.state == LoadState::Finished || f.state == LoadState::Quarantined;
  if (!every_fact_is_present(f) || (set.none() && !ended)) add(set, Reason::RecordDamaged);
  return set;
}

CivilDate release_day() {
  return *CivilDate::from(2028, 2, 29);
}

LoadFacts releasable() {
  LoadFacts f;
  f.state = LoadState::Finished;
  f.profile = *find_profile("us-cdc-2003");
  f.program = *find_program("dynamic-132-wrapped");
  f.daily_test = DailyTest::Passed;
  f.in_open_incident = false;
  f.removal = AirRemoval::Dynamic;
  f.type = SterilizerType::B;
  f.in_service = true;
  f.holds_wrapped = true;
  f.holds_hollow = true;
  f.holds_implant = false;
  f.wet_packages = 0;
  f.readings = Readings{132, 134, 4, 304, 20};
  IndicatorReading external;
  external.passed = true;
  external.expires = release_day();
  f.indicators = {external};
  f.recalled_lots.emplace();
  f.process_date = release_day();
  f.clock_behind = false;
  return f;
}

namespace {

// Below, at and above a bound, and what is no number.
std::vector<double> around(double bound) {
  return {bound - 0.1, bound, bound + 0.1};
}

PackageId some_package() {
  std::array<std::uint8_t, PackageId::kRandomBytes> bytes{};
  while (!PackageId::from_random(bytes)) ++bytes.back();
  return *PackageId::from_random(bytes);
}

IndicatorReading indicator(IndicatorPlace place, bool passed, int days_left, bool of_package) {
  IndicatorReading reading;
  reading.place = place;
  reading.passed = passed;
  reading.expires = release_day().plus_days(days_left);
  if (of_package) reading.package = some_package();
  return reading;
}

std::vector<IndicatorReading> every_indicator() {
  std::vector<IndicatorReading> all;
  for (const auto& place : Vocabulary<IndicatorPlace>::kTerms) {
    for (bool passed : {false, true}) {
      for (int days_left : {-1, 0, 1}) {
        for (bool of_package : {false, true}) {
          all.push_back(indicator(place.value, passed, days_left, of_package));
        }
      }
    }
  }
  return all;
}

std::vector<BiologicalReading> every_biological() {
  std::vector<BiologicalReading> all;
  for (const auto& test : Vocabulary<BiologicalTest>::kTerms) {
    for (const auto& control : Vocabulary<BiologicalControl>::kTerms) {
      for (const char* control_lot : {"L1", "L2", ""}) {
        BiologicalReading reading;
        reading.lot = "L1";
        reading.test = test.value;
        reading.control = control.value;
        reading.control_lot = control_lot;
        all.push_back(reading);
      }
    }
  }
  return all;
}

// No element, every one, every pair.
template <class T>
std::vector<std::vector<T>> up_to_two(const std::vector<T>& all) {
  std::vector<std::vector<T>> lists{{}};
  for (const T& first : all) {
    lists.push_back({first});
    for (const T& second : all) lists.push_back({first, second});
  }
  return lists;
}

// Readings in terms of the program's own bounds, which another group may change.
struct Offsets final {
  double low, high, minutes, drying;
  bool dried;
};

Readings readings_at(const LoadFacts& f, const Offsets& by) {
  const Program program = f.program.value_or(*find_program("dynamic-132-wrapped"));
  Readings r{program.celsius + by.low, program.celsius + by.high, program.exposure_minutes + by.minutes, 304,
             std::nullopt};
  if (by.dried) r.drying_minutes = program.drying_minutes + by.drying;
  return r;
}

void add_odd_readings(Group& group) {
  for (double odd : {kNoNumber, kNoEnd, -kNoEnd, 0.0, -1.0}) {
    for (double Readings::*member :
         {&Readings::low_celsius, &Readings::high_celsius, &Readings::minutes, &Readings::pressure_kpa}) {
      group.push_back([odd, member](LoadFacts& f) {
        f.readings = readings_at(f, {0, 2, 0, 0, true});
        (*f.readings).*member = odd;
      });
    }
    group.push_back([odd](LoadFacts& f) {
      f.readings = readings_at(f, {0, 2, 0, 0, true});
      f.readings->drying_minutes = odd;
    });
  }
}

}  // namespace

Group readings_around_the_bounds() {
  Group group{[](LoadFacts& f) { f.readings.reset(); }};
  for (double low : around(0)) {
    for (double high : {-0.2, 0.0, 3.0, 3.1}) {
      for (double minutes : around(0)) {
        for (double drying : around(0)) {
          const Offsets by{low, high, minutes, drying, true};
          group.push_back([by](LoadFacts& f) { f.readings = readings_at(f, by); });
        }
        const Offsets not_dried{low, high, minutes, 0, false};
        group.push_back([not_dried](LoadFacts& f) { f.readings = readings_at(f, not_dried); });
      }
    }
  }
  add_odd_readings(group);
  return group;
}

Group programs_and_sterilizers() {
  std::vector<std::optional<Program>> programs{std::nullopt};
  for (const Program& program : all_programs()) programs.emplace_back(program);
  const std::optional<AirRemoval> removals[] = {std::nullopt, AirRemoval::Gravity, AirRemoval::Dynamic};
  const std::optional<SterilizerType> types[] = {std::nullopt, SterilizerType::N, SterilizerType::S,
                                                 SterilizerType::B};
  Group group;
  for (const auto& program : programs) {
    for (const auto& removal : removals) {
      for (const auto& type : types) {
        for (const auto& wrapped : kAnswers) {
          for (const auto& hollow : kAnswers) {
            group.push_back([=](LoadFacts& f) {
              f.program = program;
              f.removal = removal;
              f.type = type;
              f.holds_wrapped = wrapped;
              f.holds_hollow = hollow;
            });
          }
        }
      }
    }
  }
  return group;
}

Group indicators_and_days() {
  Group group;
  for (const auto& list : up_to_two(every_indicator())) {
    for (const auto& day : {std::optional{release_day()}, std::optional<CivilDate>{}}) {
      group.push_back([=](LoadFacts& f) {
        f.indicators = list;
        f.process_date = day;
      });
    }
  }
  return group;
}

Group biologicals_and_implants() {
  Group group;
  for (const auto& list : up_to_two(every_biological())) {
    for (const auto& implant : kAnswers) {
      group.push_back([=](LoadFacts& f) {
        f.biologicals = list;
        for (std::size_t i = 0; i < list.size(); ++i) f.biologicals[i].number = static_cast<int>(i) + 1;
        f.holds_implant = implant;
      });
    }
  }
  return group;
}

Group tests_and_incidents() {
  const std::optional<DailyTest> tests[] = {std::nullopt, DailyTest::NotAsked, DailyTest::Passed,
                                            DailyTest::Missing, DailyTest::Failed};
  std::vector<std::optional<Profile>> profiles{std::nullopt};
  for (const Profile& profile : all_profiles()) profiles.emplace_back(profile);
  Group group;
  for (const auto& test : tests) {
    for (const auto& incident : kAnswers) {
      for (const auto& profile : profiles) {
        group.push_back([=](LoadFacts& f) {
          f.daily_test = test;
          f.in_open_incident = incident;
          f.profile = profile;
        });
      }
    }
  }
  return group;
}

Group recalled_lots() {
  IndicatorReading bad = indicator(IndicatorPlace::External, true, 0, false);
  bad.lot = "bad";
  IndicatorReading inside = indicator(IndicatorPlace::Internal, true, 0, false);
  inside.lot = "bad";
  IndicatorReading good = bad;
  good.lot = "good";
  const std::vector<std::vector<IndicatorReading>> readings{{}, {bad}, {good}, {bad, good}, {good, inside}};
  const std::optional<std::vector<std::string>> lots[] = {std::nullopt, std::vector<std::string>{},
                                                          std::vector<std::string>{"bad"},
                                                          std::vector<std::string>{"bad", "good"}};
  Group group;
  for (const auto& recalled : lots) {
    for (const auto& each : readings) {
      for (const char* lot : {"", "bad", "good"}) {
        for (const char* control : {"good", "bad"}) {
          group.push_back([=](LoadFacts& f) {
            f.recalled_lots = recalled;
            f.indicators = each;
            BiologicalReading reading;
            reading.lot = lot;
            reading.control_lot = control;
            reading.test = BiologicalTest::NoGrowth;
            reading.control = BiologicalControl::Growth;
            f.biologicals.clear();
            if (*lot) f.biologicals = {reading};
          });
        }
      }
    }
  }
  return group;
}

Group states_and_clocks() {
  const std::optional<int> wet_counts[] = {std::nullopt, 0, 1, 2, 3};
  Group group;
  for (const auto& state : Vocabulary<LoadState>::kTerms) {
    for (const auto& behind : kAnswers) {
      for (const auto& in_service : kAnswers) {
        for (const auto& wet : wet_counts) {
          group.push_back([=](LoadFacts& f) {
            f.state = state.value;
            f.clock_behind = behind;
            f.in_service = in_service;
            f.wet_packages = wet;
          });
        }
      }
    }
  }
  return group;
}

}  // namespace loadlight::core
