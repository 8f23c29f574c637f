#include "loadlight/core/cycle_text.h"

#include <charconv>
#include <cmath>

namespace loadlight::core {
namespace {

constexpr std::string_view kNone = "-";
constexpr std::string_view kPhases[] = {"air-removal", "heating", "plateau", "exhaust", "drying"};

// One line: a name, then its values.
class Line final {
 public:
  explicit Line(std::string_view name) : text_(name) {}

  Line& add(double value) {
    char digits[32];
    return add({digits, std::to_chars(digits, digits + sizeof digits, value).ptr});
  }
  Line& add(std::size_t count) { return add(std::to_string(count)); }
  Line& add(const std::optional<double>& value) { return value ? add(*value) : add(std::string{kNone}); }
  Line& add(const std::string& word) {
    text_.append(" ").append(word);
    return *this;
  }
  operator std::string() const { return text_ + "\n"; }

 private:
  std::string text_;
};

// The words of a text, in order; false once one is not what was asked for.
class Words final {
 public:
  explicit Words(std::string_view text) : rest_(text) {}

  bool at_end() const { return rest_.empty(); }
  // The word is taken if it is this one.
  bool take(std::string_view word) {
    const auto before = rest_;
    if (next() == word) return true;
    rest_ = before;
    return false;
  }
  bool read(double& value) {
    const auto word = next();
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    return error == std::errc{} && end == word.data() + word.size() && std::isfinite(value);
  }
  bool read(std::size_t& count) {
    const auto word = next();
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), count);
    return error == std::errc{} && end == word.data() + word.size();
  }
  bool read(std::optional<double>& value) {
    if (take(kNone)) {
      value.reset();
      return true;
    }
    return read(value.emplace());
  }
  template <class... Values>
  bool read_all(std::string_view name, Values&... values) {
    return take(name) && (read(values) && ...);
  }

 private:
  std::string_view next() {
    const auto end = rest_.find_first_of(" \n");
    const auto word = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return word;
  }
  std::string_view rest_;
};

std::string exposure_text(const std::optional<Exposure>& exposure) {
  if (!exposure) return Line{"exposure"}.add(std::string{kNone});
  const Exposure& e = *exposure;
  return Line{"exposure"}
      .add(e.start_seconds)
      .add(e.end_seconds)
      .add(e.samples)
      .add(e.low_celsius)
      .add(e.high_celsius)
      .add(e.largest_step_kelvin)
      .add(e.low_kpa)
      .add(e.high_kpa)
      .add(e.superheat_kelvin)
      .add(e.deficit_kelvin)
      .add(e.without_pressure)
      .add(e.f0_minutes);
}

bool read_exposure(Words& words, std::optional<Exposure>& exposure) {
  if (!words.take("exposure")) return false;
  if (words.take(kNone)) return true;
  Exposure& e = exposure.emplace();
  return words.read(e.start_seconds) && words.read(e.end_seconds) && words.read(e.samples) &&
         words.read(e.low_celsius) && words.read(e.high_celsius) && words.read(e.largest_step_kelvin) &&
         words.read(e.low_kpa) && words.read(e.high_kpa) && words.read(e.superheat_kelvin) &&
         words.read(e.deficit_kelvin) && words.read(e.without_pressure) && words.read(e.f0_minutes);
}

std::string exhausted_text(const std::optional<bool>& exhausted) {
  if (!exhausted) return Line{"exhausted"}.add(std::string{kNone});
  return Line{"exhausted"}.add(std::string{*exhausted ? "yes" : "no"});
}

bool read_exhausted(Words& words, std::optional<bool>& exhausted) {
  if (!words.take("exhausted")) return false;
  if (words.take(kNone)) return true;
  exhausted = words.take("yes");
  return *exhausted || words.take("no");
}

bool read_phase(Words& words, PhaseSpan& phase) {
  for (std::size_t kind = 0; kind < std::size(kPhases); ++kind) {
    if (!words.take(kPhases[kind])) continue;
    phase.phase = static_cast<CyclePhase>(kind);
    return words.read(phase.start_seconds) && words.read(phase.end_seconds);
  }
  return false;
}

bool read_lists(Words& words, CycleFindings& f) {
  while (!words.at_end()) {
    bool read = false;
    if (words.take("phase")) {
      read = read_phase(words, f.phases.emplace_back());
    } else if (words.take("pulse")) {
      Pulse& pulse = f.pulses.emplace_back();
      read = words.read(pulse.seconds) && words.read(pulse.from_kpa) && words.read(pulse.to_kpa);
    } else if (words.take("gap")) {
      Gap& gap = f.gaps.emplace_back();
      read = words.read(gap.start_seconds) && words.read(gap.end_seconds);
    }
    if (!read) return false;
  }
  return true;
}

bool read_findings(Words& words, CycleFindings& f) {
  CycleSettings& s = f.settings;
  return words.read_all("programmed", s.programmed_celsius, s.margin_kelvin, s.nominal_seconds,
                        s.barometric_kpa) &&
         words.read_all("f0", s.f0.reference_celsius, s.f0.z_kelvin, f.f0_minutes) &&
         words.read_all("samples", f.samples, f.without_pressure, f.start_seconds, f.end_seconds,
                        f.low_celsius, f.high_celsius) &&
         words.read_all("steps", f.interruptions, f.pulse_count, f.gap_count, f.longest_step_seconds) &&
         read_exposure(words, f.exposure) && read_exhausted(words, f.exhausted) &&
         words.read_all("drying", f.drying_minutes) && read_lists(words, f);
}

}  // namespace

std::string findings_text(const CycleFindings& f) {
  const CycleSettings& s = f.settings;
  std::string text = Line{"programmed"}
                         .add(s.programmed_celsius)
                         .add(s.margin_kelvin)
                         .add(s.nominal_seconds)
                         .add(s.barometric_kpa);
  text += Line{"f0"}.add(s.f0.reference_celsius).add(s.f0.z_kelvin).add(f.f0_minutes);
  text += Line{"samples"}
              .add(f.samples)
              .add(f.without_pressure)
              .add(f.start_seconds)
              .add(f.end_seconds)
              .add(f.low_celsius)
              .add(f.high_celsius);
  text += Line{"steps"}.add(f.interruptions).add(f.pulse_count).add(f.gap_count).add(f.longest_step_seconds);
  text += exposure_text(f.exposure) + exhausted_text(f.exhausted);
  text += Line{"drying"}.add(f.drying_minutes);
  for (const PhaseSpan& phase : f.phases) {
    text += Line{"phase"}
                .add(std::string{kPhases[static_cast<std::size_t>(phase.phase)]})
                .add(phase.start_seconds)
                .add(phase.end_seconds);
  }
  for (const Pulse& pulse : f.pulses) {
    text += Line{"pulse"}.add(pulse.seconds).add(pulse.from_kpa).add(pulse.to_kpa);
  }
  for (const Gap& gap : f.gaps) text += Line{"gap"}.add(gap.start_seconds).add(gap.end_seconds);
  return text;
}

std::optional<CycleFindings> parse_findings(std::string_view text) {
  CycleFindings findings;
  Words words{text};
  if (!read_findings(words, findings) || findings_text(findings) != text) return std::nullopt;
  return findings;
}

std::string curve_text(const std::vector<CurvePoint>& curve) {
  std::string text;
  for (const CurvePoint& point : curve) {
    text += Line{"at"}.add(point.seconds).add(point.celsius).add(point.kpa_abs);
  }
  return text;
}

std::optional<std::vector<CurvePoint>> parse_curve(std::string_view text) {
  std::vector<CurvePoint> curve;
  Words words{text};
  while (!words.at_end()) {
    CurvePoint& point = curve.emplace_back();
    if (!words.read_all("at", point.seconds, point.celsius, point.kpa_abs)) return std::nullopt;
  }
  return curve;
}

}  // namespace loadlight::core
