#include "app/exchange_tables.h"

#include <algorithm>
#include <locale>
#include <optional>
#include <sstream>

#include "loadlight/exchange/csv.h"

namespace loadlight::app {
namespace {

using exchange::CsvRow;
using report::LoadRecordFacts;

std::string text_of(const std::optional<core::CivilDate>& date) {
  return date ? date->iso() : "";
}
std::string text_of(const std::optional<core::Instant>& at) {
  return at ? core::to_text(*at) : "";
}
std::string text_of(const std::optional<double>& number) {
  if (!number) return "";
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << *number;
  return text.str();
}
std::string text_of(const std::optional<int>& number) {
  return number ? std::to_string(*number) : "";
}

std::string measured(const LoadRecordFacts& facts, std::string_view criterion) {
  const auto found = std::find_if(facts.criteria.begin(), facts.criteria.end(),
                                  [&](const auto& line) { return line.code == criterion; });
  return found == facts.criteria.end() ? "" : text_of(found->measured);
}

// "external:pass pcd:fail", each reading in its order.
std::string indicators_of(const LoadRecordFacts& facts) {
  std::string text;
  for (const core::IndicatorReading& reading : facts.indicators) {
    text += (text.empty() ? "" : " ") + std::string{core::to_text(reading.place)} +
            (reading.passed ? ":pass" : ":fail");
  }
  return text;
}

// "no-growth:growth": test and control, each reading in its order.
std::string biologicals_of(const LoadRecordFacts& facts) {
  std::string text;
  for (const core::BiologicalReading& reading : facts.readings) {
    text += (text.empty() ? "" : " ") + std::string{core::to_text(reading.test)} + ":" +
            std::string{core::to_text(reading.control)};
  }
  return text;
}

std::string joined(const std::vector<int>& numbers) {
  std::string text;
  for (int number : numbers) text += (text.empty() ? "" : " ") + std::to_string(number);
  return text;
}

std::string reasons_of(const LoadRecordFacts& facts) {
  std::string text;
  for (core::Reason reason : facts.reasons) {
    text += (text.empty() ? "" : " ") + std::string{core::to_text(reason)};
  }
  return text;
}

struct PeriodColumn final {
  std::string_view name;
  std::string (*value)(const LoadRecordFacts&);
};

constexpr PeriodColumn kPeriodColumns[] = {
    {"load", [](const LoadRecordFacts& f) { return f.load.name.text(); }},
    {"process_date", [](const LoadRecordFacts& f) { return text_of(f.load.process_date); }},
    {"sterilizer", [](const LoadRecordFacts& f) { return f.load.name.sterilizer; }},
    {"program", [](const LoadRecordFacts& f) { return f.load.program; }},
    {"purpose", [](const LoadRecordFacts& f) { return std::string{core::to_text(f.load.purpose)}; }},
    {"state", [](const LoadRecordFacts& f) { return std::string{core::to_text(f.load.state)}; }},
    {"reasons", reasons_of},
    {"started", [](const LoadRecordFacts& f) { return text_of(f.load.started_at); }},
    {"finished", [](const LoadRecordFacts& f) { return text_of(f.load.finished_at); }},
    {"counter", [](const LoadRecordFacts& f) { return text_of(f.load.machine_counter); }},
    {"exposure_minutes", [](const LoadRecordFacts& f) { return measured(f, "exposure"); }},
    {"low_celsius", [](const LoadRecordFacts& f) { return measured(f, "lowest-temperature"); }},
    {"high_celsius", [](const LoadRecordFacts& f) { return measured(f, "upper-limit"); }},
    {"drying_minutes", [](const LoadRecordFacts& f) { return measured(f, "drying"); }},
    {"indicators", indicators_of},
    {"biologicals", biologicals_of},
    {"packages", [](const LoadRecordFacts& f) { return std::to_string(f.packages.size()); }},
    {"implant", [](const LoadRecordFacts& f) { return std::string{f.load.implant_aboard ? "yes" : "no"}; }},
    {"decided_by", [](const LoadRecordFacts& f) { return f.load.decided_by; }},
    {"decided_at", [](const LoadRecordFacts& f) { return text_of(f.load.decided_at); }},
    {"profile", [](const LoadRecordFacts& f) { return f.decided_under; }},
    {"emergency", [](const LoadRecordFacts& f) { return f.load.emergency_reason; }},
    {"second", [](const LoadRecordFacts& f) { return f.load.emergency_second; }},
    {"incidents", [](const LoadRecordFacts& f) { return joined(f.incidents); }},
};

}  // namespace

std::string recall_csv(const report::RecallNoticeFacts& facts) {
  CsvRow header;
  for (std::string_view name : {"package", "contents", "load", "process_date", "use_by", "disposition",
                                "location", "opened_at", "visit", "called_back", "why"}) {
    header.add(name);
  }
  std::string csv = header.line();
  for (const report::SuspectPackage& each : facts.packages) {
    const core::Package& p = each.package;
    CsvRow row;
    row.add(p.id.text()).add(p.contents).add(p.load.text()).add(p.process_date.iso()).add(text_of(p.use_by));
    row.add(each.disposition ? core::to_text(*each.disposition) : std::string_view{});
    row.add(p.location.value_or("")).add(text_of(p.opened_at)).add(p.visit.value_or(""));
    row.add(each.called_back ? "yes" : "no").add(each.why);
    csv += row.line();
  }
  return csv;
}

std::string period_csv_header() {
  CsvRow row;
  for (const PeriodColumn& column : kPeriodColumns) row.add(column.name);
  return row.line();
}

std::string period_csv_line(const LoadRecordFacts& facts) {
  CsvRow row;
  for (const PeriodColumn& column : kPeriodColumns) row.add(column.value(facts));
  return row.line();
}

}  // namespace loadlight::app
