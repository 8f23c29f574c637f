#include "loadlight/core/biological.h"

#include <algorithm>
#include <map>

namespace loadlight::core {
namespace {

bool control_speaks(const BiologicalReading& reading, const Profile& profile) {
  const bool same_lot = !reading.lot.empty() && reading.control_lot == reading.lot;
  switch (reading.control) {
    case BiologicalControl::Growth:
      return same_lot;
    case BiologicalControl::NoGrowth:
      return false;
    case BiologicalControl::NotReported:
      return profile.unreported_control == UnreportedControl::Accepted &&
             (same_lot || reading.control_lot.empty());
  }
  return false;
}

// The run that a reading answers: the one it names, else the only one of its lot. None: an indicator of its
// own, of which no run was recorded.
std::optional<int> answered(const BiologicalReading& reading, std::span<const BiologicalRun> runs) {
  if (reading.of_run) return reading.of_run;
  const auto is_of_lot = [&](const BiologicalRun& run) { return run.lot == reading.lot; };
  const auto only = std::ranges::find_if(runs, is_of_lot);
  if (std::ranges::count_if(runs, is_of_lot) != 1) return std::nullopt;
  return only->number;
}

using NewestReadings = std::map<std::optional<int>, const BiologicalReading*>;

NewestReadings newest_by_run(std::span<const BiologicalRun> runs,
                             std::span<const BiologicalReading> readings) {
  NewestReadings newest;
  for (const BiologicalReading& reading : readings) {
    const BiologicalReading*& kept = newest[answered(reading, runs)];
    if (!kept || kept->number <= reading.number) kept = &reading;
  }
  return newest;
}

}  // namespace

BiologicalStanding standing_of(const BiologicalReading& reading, const Profile& profile) {
  switch (reading.test) {
    case BiologicalTest::Growth:
      return BiologicalStanding::Positive;
    case BiologicalTest::Lost:
      return BiologicalStanding::Lost;
    case BiologicalTest::NoGrowth:
      return control_speaks(reading, profile) ? BiologicalStanding::Negative : BiologicalStanding::Invalid;
  }
  return BiologicalStanding::Invalid;
}

bool is_valid_negative(const BiologicalReading& reading, const Profile& profile) {
  return standing_of(reading, profile) == BiologicalStanding::Negative;
}

std::optional<BiologicalStanding> standing_of(std::span<const BiologicalRun> runs,
                                              std::span<const BiologicalReading> readings,
                                              const Profile& profile) {
  const auto grew = [](const BiologicalReading& reading) { return reading.test == BiologicalTest::Growth; };
  if (std::ranges::any_of(readings, grew)) return BiologicalStanding::Positive;

  const NewestReadings newest = newest_by_run(runs, readings);
  const auto is_read = [&](const BiologicalRun& run) { return newest.contains(run.number); };
  if (newest.empty() || !std::ranges::all_of(runs, is_read)) return std::nullopt;

  auto worst = BiologicalStanding::Negative;
  for (const auto& [run, reading] : newest) worst = std::max(worst, standing_of(*reading, profile));
  return worst;
}

std::optional<CivilDate> next_biological_due(Frequency frequency, std::optional<CivilDate> last_run_day,
                                             CivilDate first_used_day) {
  if (frequency == Frequency::Off) return std::nullopt;
  if (!last_run_day) return first_used_day;
  switch (frequency) {
    case Frequency::Off:
      return std::nullopt;
    case Frequency::Daily:
      return last_run_day->plus_days(1);
    case Frequency::Weekly:
      return last_run_day->plus_days(7);
    case Frequency::Monthly:
      return last_run_day->plus_months(1);
    case Frequency::Quarterly:
      return last_run_day->plus_months(3);
  }
  return last_run_day->plus_days(1);
}

}  // namespace loadlight::core
