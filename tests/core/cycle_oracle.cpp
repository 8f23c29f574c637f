#include "core/cycle_oracle.h"

#include <cmath>

#include "loadlight/core/steam.h"

namespace loadlight::core {
namespace {

constexpr double kTiny = 1e-9;

// The part of a log that is the exposure: from one sample to another, both included.
struct Stretch final {
  std::size_t from = 0;
  std::size_t to = 0;
};

bool is_hot(const RandomCycle& c, std::size_t i) {
  return c.samples[i].celsius + kTiny >= c.settings.programmed_celsius + c.settings.margin_kelvin;
}
bool gap_after(const RandomCycle& c, std::size_t i) {
  return c.samples[i + 1].seconds - c.samples[i].seconds > 2 * c.settings.nominal_seconds;
}
double length(const RandomCycle& c, const Stretch& s) {
  return c.samples[s.to].seconds - c.samples[s.from].seconds;
}

// Of every stretch without a cool sample or a gap in it, the longest.
std::optional<Stretch> longest_hot_stretch(const RandomCycle& c) {
  std::optional<Stretch> longest;
  for (std::size_t from = 0; from < c.samples.size(); ++from) {
    for (std::size_t to = from; to < c.samples.size() && is_hot(c, to); ++to) {
      if (!longest || length(c, {from, to}) > length(c, *longest)) longest = Stretch{from, to};
      if (to + 1 == c.samples.size() || gap_after(c, to)) break;
    }
  }
  return longest;
}

std::optional<double> too_hot_by(const CycleSample& sample) {
  if (!sample.kpa_abs || !saturation_celsius(*sample.kpa_abs)) return std::nullopt;
  return sample.celsius - *saturation_celsius(*sample.kpa_abs);
}

ExpectedLine line(std::optional<double> measured, bool kept) {
  if (!measured) return {Standing::Unknown, std::nullopt};
  return {kept ? Standing::Met : Standing::NotMet, measured};
}
ExpectedLine at_least(double measured, double limit) {
  return line(measured, measured + kTiny >= limit);
}
ExpectedLine at_most(double measured, double limit) {
  return line(measured, measured <= limit + kTiny);
}

using Lines = std::map<std::string, ExpectedLine>;

void add_steam(const RandomCycle& c, const Stretch& exposure, Lines& lines) {
  double superheat = 0, deficit = 0;
  std::size_t compared = 0;
  for (std::size_t i = exposure.from; i <= exposure.to; ++i) {
    const auto by = too_hot_by(c.samples[i]);
    if (!by) continue;
    ++compared;
    superheat = std::max(superheat, *by);
    deficit = std::max(deficit, -*by);
  }
  const std::size_t missing = exposure.to - exposure.from + 1 - compared;
  lines["pressure-recorded"] = at_most(static_cast<double>(missing), 0);
  if (compared == 0) return;
  lines["saturation-superheat"] = at_most(superheat, c.limits.steam_kelvin);
  lines["saturation-deficit"] = at_most(deficit, c.limits.steam_kelvin);
  for (const char* code : {"saturation-superheat", "saturation-deficit"}) {
    if (missing > 0 && lines[code].standing == Standing::Met) lines[code].standing = Standing::Unknown;
  }
}

void add_temperatures(const RandomCycle& c, const Stretch& exposure, Lines& lines) {
  double low = 1e9, high = -1e9;
  for (std::size_t i = exposure.from; i <= exposure.to; ++i) {
    low = std::min(low, c.samples[i].celsius);
    high = std::max(high, c.samples[i].celsius);
  }
  lines["lowest-temperature"] = at_least(low, c.limits.set_celsius + c.limits.margin_kelvin);
  lines["upper-limit"] = at_most(high, c.limits.set_celsius + c.limits.band_kelvin - c.limits.margin_kelvin);
  lines["fluctuation"] = at_most((high - low) / 2, c.limits.fluctuation_kelvin);
}

// After the last hot sample: when the chamber had come down to the pressure around it for good, and how long
// pressure says that it stayed there.
void add_end(const RandomCycle& c, Lines& lines) {
  std::size_t begin = c.samples.size();
  while (begin > 0 && !is_hot(c, begin - 1)) --begin;
  const double ceiling = c.settings.barometric_kpa + 10;
  bool told = false, down = false;
  double seconds = 0;
  for (std::size_t i = begin; i < c.samples.size(); ++i) {
    const auto& kpa = c.samples[i].kpa_abs;
    if (!kpa) continue;
    told = true;
    down = *kpa <= ceiling;
    if (!down) seconds = 0;
    const bool both = down && i > begin && c.samples[i - 1].kpa_abs && *c.samples[i - 1].kpa_abs <= ceiling;
    if (both && !gap_after(c, i - 1)) seconds += c.samples[i].seconds - c.samples[i - 1].seconds;
  }
  if (!told) return;
  lines["cycle-complete"] = at_least(down ? 1 : 0, 1);
  lines["drying"] = at_least(seconds / 60, c.limits.drying_minutes);
}

void add_whole(const RandomCycle& c, Lines& lines) {
  double longest = 0, missing = 0;
  for (std::size_t i = 1; i < c.samples.size(); ++i) {
    longest = std::max(longest, c.samples[i].seconds - c.samples[i - 1].seconds);
  }
  for (const CycleSample& sample : c.samples) missing += sample.kpa_abs ? 0 : 1;
  if (c.samples.size() > 1) lines["sampling-gap"] = at_most(longest, 2 * c.settings.nominal_seconds);
  if (!c.samples.empty()) {
    lines["pressure-recorded"] = at_most(missing, 0);
    lines["cycle-complete"] = at_least(0, 1);
  }
}

double uniform(std::mt19937& random, double low, double high) {
  return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
}
bool chance(std::mt19937& random, double share) {
  return uniform(random, 0, 1) < share;
}

// One phase: samples about a level, at about a pressure.
struct Phase final {
  int samples;
  double celsius, swing;
  double off_kelvin;     // from the steam of the pressure; used when `kpa` is 0
  double kpa;            // 0: that of the steam
  double missing, gaps;  // shares
};

void add_phase(RandomCycle& c, const Phase& phase, std::mt19937& random) {
  double seconds = c.samples.empty() ? 0 : c.samples.back().seconds;
  for (int i = 0; i < phase.samples; ++i) {
    const bool gap = chance(random, phase.gaps);
    seconds += c.settings.nominal_seconds * (gap ? uniform(random, 1.9, 4) : uniform(random, 0.9, 1.1));
    const double celsius = phase.celsius + uniform(random, -phase.swing, phase.swing);
    const double steam = saturation_pressure_kpa(celsius - phase.off_kelvin).value_or(0);
    const double kpa = (phase.kpa > 0 ? phase.kpa : steam) * uniform(random, 0.995, 1.005);
    c.samples.push_back({seconds, celsius, std::nullopt});
    if (!chance(random, phase.missing)) c.samples.back().kpa_abs = kpa;
  }
}

int count(std::mt19937& random, double low, double high) {
  return static_cast<int>(uniform(random, low, high));
}

void add_samples(RandomCycle& c, std::mt19937& random) {
  const double set = c.settings.programmed_celsius;
  const double missing = chance(random, 0.7) ? 0 : uniform(random, 0, 0.3);
  const double gaps = chance(random, 0.6) ? 0 : uniform(random, 0, 0.05);
  const double swing = uniform(random, 0.1, chance(random, 0.7) ? 0.9 : 3);
  const double off = chance(random, 0.6) ? 0 : uniform(random, -4, 4);
  add_phase(c, {count(random, 0, 20), 80, 30, 0, 60, missing, gaps}, random);
  const int holds = chance(random, 0.85) ? 1 : 2;
  for (int i = 0; i < holds && chance(random, 0.95); ++i) {
    const double level = set + c.settings.margin_kelvin + uniform(random, -0.1, 2);
    add_phase(c, {count(random, 5, 60), level, swing, off, 0, missing, gaps}, random);
    if (holds == 2) add_phase(c, {count(random, 0, 9), set - 9, 5, 0, 0, missing, gaps}, random);
  }
  if (chance(random, 0.9)) {
    add_phase(c, {count(random, 0, 6), set - 9, 5, 0, 0, missing, gaps}, random);
    const double after = chance(random, 0.8) ? 8 : c.settings.barometric_kpa + 9;
    add_phase(c, {count(random, 0, 50), 95, 4, 0, after, chance(random, 0.1) ? 1 : missing, gaps}, random);
    if (chance(random, 0.1)) add_phase(c, {3, 99, 1, 0, 190, missing, gaps}, random);
  }
}

}  // namespace

RandomCycle random_cycle(std::mt19937& random) {
  constexpr double kSetPoints[] = {121, 126, 132, 134};
  constexpr double kIntervals[] = {1, 2, 5, 10};
  RandomCycle c;
  c.settings.programmed_celsius = kSetPoints[random() % 4];
  c.settings.nominal_seconds = kIntervals[random() % 4];
  c.settings.barometric_kpa = chance(random, 0.8) ? kStandardBarometricKpa : 83.5;
  c.limits.set_celsius = c.settings.programmed_celsius + (chance(random, 0.95) ? 0 : uniform(random, -2, 2));
  c.limits.exposure_minutes =
      chance(random, 0.03) ? 0 : uniform(random, 0.1, 55) * c.settings.nominal_seconds / 60;
  c.limits.drying_minutes =
      chance(random, 0.1) ? 0 : uniform(random, 0.1, 30) * c.settings.nominal_seconds / 60;
  if (!chance(random, 0.01)) add_samples(c, random);
  return c;
}

std::map<std::string, ExpectedLine> expected_lines(const RandomCycle& c) {
  Lines lines;
  for (const char* code :
       {"cycle-complete", "exposure", "lowest-temperature", "upper-limit", "fluctuation", "pressure-recorded",
        "saturation-superheat", "saturation-deficit", "drying", "sampling-gap"}) {
    lines[code] = {};
  }
  add_whole(c, lines);
  const auto exposure = longest_hot_stretch(c);
  if (exposure) {
    lines["cycle-complete"] = {};
    add_temperatures(c, *exposure, lines);
    add_steam(c, *exposure, lines);
    add_end(c, lines);
  }
  const bool read_for_less = c.settings.programmed_celsius + c.settings.margin_kelvin + kTiny <
                             c.limits.set_celsius + c.limits.margin_kelvin;
  if (!c.samples.empty() && !read_for_less && c.limits.exposure_minutes > 0) {
    lines["exposure"] = at_least(exposure ? length(c, *exposure) / 60 : 0, c.limits.exposure_minutes);
  }
  if (c.limits.drying_minutes == 0) lines["drying"].standing = Standing::NotAsked;
  return lines;
}

}  // namespace loadlight::core
