#include "report/record_evidence.h"

#include <algorithm>
#include <string_view>

#include "report/plot_scale.h"

namespace loadlight::report {
namespace {

using core::CriterionResult;

constexpr CyclePlotSize kPlotSize{175, 63};

std::string key(std::string_view prefix, std::string_view code) {
  return std::string{prefix} + std::string{code};
}

int decimals_of(std::string_view unit) {
  if (unit == "degC" || unit == "s") return 1;
  return unit == "samples" || unit == "cycle" ? 0 : 2;
}

// A whole cycle is 1, one that is cut off 0.
std::string value_text(double value, std::string_view unit, const Words& words) {
  if (unit == "cycle") return words.text(value > 0 ? "record.yes" : "record.no");
  return words.text("record.value", {{"value", fixed(value, decimals_of(unit))},
                                     {"unit", words.text(key("record.unit.", unit))}});
}

std::string limit_text(const CriterionResult& line, const Words& words) {
  if (line.standing == core::Standing::NotAsked) return "";
  const std::string value = value_text(line.limit, line.unit, words);
  if (line.unit == "cycle") return value;
  return words.text(line.at_least ? "record.at-least" : "record.at-most", {{"value", value}});
}

std::string margin_text(const CriterionResult& line, const Words& words) {
  if (!line.margin || line.unit == "cycle" || line.standing == core::Standing::NotAsked) return "";
  return (*line.margin > 0 ? "+" : "") + value_text(*line.margin, line.unit, words);
}

// Sources are named once below the table; a line refers to its own by number.
class Sources final {
 public:
  std::string reference(std::string_view source) {
    const auto known = std::find(sources_.begin(), sources_.end(), source);
    const auto place = static_cast<std::size_t>(known - sources_.begin());
    if (known == sources_.end()) sources_.emplace_back(source);
    return std::to_string(place + 1);
  }
  std::string text() const {
    std::string all;
    for (std::size_t i = 0; i < sources_.size(); ++i) {
      all += (i > 0 ? "   " : "") + std::to_string(i + 1) + "  " + sources_[i] + ".";
    }
    return all;
  }

 private:
  std::vector<std::string> sources_;
};

void add_criteria(const LoadRecordFacts& facts, const Words& words, std::vector<Block>& blocks) {
  Table table = table_of(
      words,
      {{"criterion", 34}, {"measured", 14}, {"limit", 22}, {"margin", 14}, {"standing", 12}, {"source", 6}});
  table.columns[1].kind = table.columns[2].kind = table.columns[3].kind = ColumnKind::Figures;
  Sources sources;
  for (const CriterionResult& line : facts.criteria) {
    table.rows.push_back(
        {words.text(key("criterion.", line.code)),
         line.measured ? value_text(*line.measured, line.unit, words) : words.text("record.not-measured"),
         limit_text(line, words), margin_text(line, words),
         words.text(key("record.standing.", core::to_text(line.standing))), sources.reference(line.source)});
  }
  blocks.emplace_back(std::move(table));
  blocks.emplace_back(Paragraph{words.text("record.sources", {{"sources", sources.text()}}), true});
}

std::string readings_text(const core::Readings& readings, const Words& words) {
  core::Details details{{"low", fixed(readings.low_celsius, 1)},
                        {"high", fixed(readings.high_celsius, 1)},
                        {"minutes", fixed(readings.minutes, 2)},
                        {"kpa", fixed(readings.pressure_kpa, 0)}};
  if (readings.drying_minutes) details.emplace_back("drying", fixed(*readings.drying_minutes, 1));
  return words.text("record.readings", details);
}

// Information, never the reason to release; with its convention, of which there are several.
std::string lethality_text(const core::CycleFindings& findings, const Words& words) {
  return words.text("record.f0", {{"minutes", fixed(findings.f0_minutes, 1)},
                                  {"reference", fixed(findings.settings.f0.reference_celsius, 1)},
                                  {"z", fixed(findings.settings.f0.z_kelvin, 0)}});
}

std::string log_text(const core::CycleLog& log, const RecordNames& names, const Words& words) {
  core::Details details{{"file", log.file},
                        {"mapping", log.mapping},
                        {"who", person_text(log.read_by, names)},
                        {"time", names.local_time(log.read_at)}};
  if (!log.why.empty()) details.emplace_back("reason", log.why);
  return words.text("record.log", details);
}

void add_plot(const LoadRecordFacts& facts, const Words& words, std::vector<Block>& blocks) {
  if (!facts.findings || facts.findings->curve.empty()) return;
  const CyclePlotTexts texts = cycle_plot_texts(words, *facts.findings, {{"load", facts.load.name.text()}});
  blocks.emplace_back(Curve{lay_out_cycle(*facts.findings, facts.limits, texts, kPlotSize)});
}

std::string with_reason(std::string text, const std::string& why, const Words& words) {
  return why.empty() ? text : words.text("record.with-reason", {{"text", std::move(text)}, {"reason", why}});
}

std::string type_text(const core::IndicatorReading& reading, const Words& words) {
  if (!reading.stated_celsius || !reading.stated_minutes) return std::to_string(reading.type);
  return words.text("record.indicator-states", {{"type", std::to_string(reading.type)},
                                                {"celsius", fixed(*reading.stated_celsius, 0)},
                                                {"minutes", fixed(*reading.stated_minutes, 1)}});
}

const core::BiologicalRun* run_of(const core::BiologicalReading& reading,
                                  const std::vector<core::BiologicalRun>& runs) {
  const auto found = std::find_if(runs.begin(), runs.end(), [&](const auto& run) {
    return reading.of_run ? run.number == *reading.of_run : run.lot == reading.lot;
  });
  return found == runs.end() ? nullptr : &*found;
}

bool has_result(const core::BiologicalRun& run, const LoadRecordFacts& facts) {
  return std::any_of(facts.readings.begin(), facts.readings.end(), [&](const auto& reading) {
    const core::BiologicalRun* of = run_of(reading, facts.runs);
    return of != nullptr && of->number == run.number;
  });
}

std::string lots_text(const std::string& lot, const std::string& control_lot, const Words& words) {
  if (control_lot.empty() || control_lot == lot) return lot;
  return words.text("record.lots", {{"lot", lot}, {"control", control_lot}});
}

std::string result_text(const core::BiologicalReading& reading, const Words& words) {
  return words.text("record.biological",
                    {{"test", words.text(key("record.test.", core::to_text(reading.test)))},
                     {"control", words.text(key("record.control.", core::to_text(reading.control)))}});
}

std::string done_text(core::Instant at, const std::string& who, const RecordNames& names,
                      const Words& words) {
  return words.text("record.time-by", {{"time", names.local_time(at)}, {"who", person_text(who, names)}});
}

TableRow row_of(const core::BiologicalReading& reading, const LoadRecordFacts& facts,
                const RecordNames& names, const Words& words) {
  const core::BiologicalRun* run = run_of(reading, facts.runs);
  std::string result = with_reason(result_text(reading, words), reading.why, words);
  if (!reading.report_file.empty()) result += " (" + reading.report_file + ")";
  return {lots_text(reading.lot, reading.control_lot, words), std::move(result),
          run ? done_text(run->placed_at, run->placed_by, names, words) : "",
          done_text(reading.read_at, reading.read_by, names, words)};
}

TableRow row_of(const core::BiologicalRun& run, const RecordNames& names, const Words& words) {
  return {lots_text(run.lot, run.control_lot, words), words.text("record.awaited"),
          done_text(run.placed_at, run.placed_by, names, words),
          words.text("record.due", {{"time", names.local_time(run.due_at)}})};
}

}  // namespace

Table table_of(const Words& words, std::initializer_list<std::pair<const char*, double>> columns) {
  Table table;
  table.fine = true;
  for (const auto& [name, weight] : columns) {
    table.columns.push_back({words.text(key("record.column.", name)), weight, ColumnKind::Text});
  }
  return table;
}

void add_mechanical(const LoadRecordFacts& facts, const RecordNames& names, const Words& words,
                    std::vector<Block>& blocks) {
  blocks.emplace_back(Heading{words.text("record.heading.mechanical")});
  if (!facts.log && facts.load.readings) {
    blocks.emplace_back(Paragraph{readings_text(*facts.load.readings, words), false});
  }
  if (facts.load.leak) {
    blocks.emplace_back(
        Paragraph{words.text(facts.load.leak->passed ? "record.leak.passed" : "record.leak.failed",
                             {{"kpa", fixed(facts.load.leak->kpa_per_minute, 2)}}),
                  false});
  }
  if (!facts.criteria.empty()) add_criteria(facts, words, blocks);
  const bool nothing = facts.criteria.empty() && !facts.load.readings && !facts.log && !facts.load.leak;
  if (nothing) blocks.emplace_back(Paragraph{words.text("record.none-recorded"), false});
  add_plot(facts, words, blocks);
  if (facts.log)
    blocks.emplace_back(Paragraph{log_text(*facts.log, names, words) +
                                      (facts.findings ? " " + lethality_text(*facts.findings, words) : ""),
                                  true});
}

void add_chemical(const LoadRecordFacts& facts, const RecordNames& names, const Words& words,
                  std::vector<Block>& blocks) {
  blocks.emplace_back(Heading{words.text("record.heading.chemical")});
  if (facts.indicators.empty()) {
    blocks.emplace_back(Paragraph{words.text("record.none-recorded"), false});
    return;
  }
  Table table = table_of(words, {{"place", 22},
                                 {"type", 12},
                                 {"lot", 16},
                                 {"expires", 17},
                                 {"package", 20},
                                 {"result", 18},
                                 {"read", 56}});
  for (const core::IndicatorReading& reading : facts.indicators) {
    const std::string result = words.text(reading.passed ? "record.passed" : "record.failed");
    table.rows.push_back(
        {words.text(key("record.place.", core::to_text(reading.place))), type_text(reading, words),
         reading.lot, reading.expires.iso(), reading.package ? reading.package->grouped() : "",
         with_reason(result, reading.why, words), done_text(reading.read_at, reading.read_by, names, words)});
  }
  blocks.emplace_back(std::move(table));
}

void add_biological(const LoadRecordFacts& facts, const RecordNames& names, const Words& words,
                    std::vector<Block>& blocks) {
  blocks.emplace_back(Heading{words.text("record.heading.biological")});
  Table table = table_of(words, {{"lot", 20}, {"result", 36}, {"placed", 53}, {"read", 53}});
  for (const core::BiologicalReading& reading : facts.readings) {
    table.rows.push_back(row_of(reading, facts, names, words));
  }
  for (const core::BiologicalRun& run : facts.runs) {
    if (!has_result(run, facts)) table.rows.push_back(row_of(run, names, words));
  }
  if (table.rows.empty()) {
    blocks.emplace_back(Paragraph{words.text("record.no-biological"), false});
  } else {
    blocks.emplace_back(std::move(table));
  }
}

std::string biological_text(const LoadRecordFacts& facts, const Words& words) {
  std::string text;
  for (const core::BiologicalReading& reading : facts.readings) {
    text += (text.empty() ? "" : "; ") + result_text(reading, words);
  }
  const bool awaited = std::any_of(facts.runs.begin(), facts.runs.end(),
                                   [&](const auto& run) { return !has_result(run, facts); });
  if (awaited) text += (text.empty() ? "" : "; ") + words.text("record.awaited");
  return text;
}

}  // namespace loadlight::report
