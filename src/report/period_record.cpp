#include "loadlight/report/period_record.h"

#include <algorithm>

#include "report/record_evidence.h"

namespace loadlight::report {
namespace {

std::string count_of(const std::vector<PeriodLine>& lines, core::LoadState state) {
  return std::to_string(
      std::count_if(lines.begin(), lines.end(), [&](const auto& line) { return line.state == state; }));
}

std::string others_of(const std::vector<PeriodLine>& lines) {
  return std::to_string(std::count_if(lines.begin(), lines.end(), [](const PeriodLine& line) {
    return line.state != core::LoadState::Released && line.state != core::LoadState::Failed;
  }));
}

Table summary_table(const std::vector<PeriodLine>& lines, const Words& words) {
  Table table = table_of(words, {{"load", 14},
                                 {"date", 17},
                                 {"sterilizer", 25},
                                 {"program", 20},
                                 {"packages", 13},
                                 {"outcome", 28},
                                 {"biological", 37},
                                 {"decided-by", 25}});
  table.columns[4].kind = ColumnKind::Figures;
  for (const PeriodLine& line : lines) {
    table.rows.push_back({line.load, line.date, line.sterilizer, line.program, std::to_string(line.packages),
                          line.decision, line.biological, line.decided_by});
  }
  return table;
}

}  // namespace

PeriodLine period_line(const LoadRecordFacts& facts, const RecordNames& names, const Words& words) {
  const core::Load& load = facts.load;
  return {load.name.text(),
          load.process_date ? load.process_date->iso() : "",
          facts.sterilizer,
          load.program,
          decision_text(load, words),
          biological_text(facts, words),
          person_text(load.decided_by, names),
          facts.packages.size(),
          load.state};
}

Document period_summary(const PeriodFacts& facts, const RecordNames& names, const Words& words) {
  core::Details gaps{{"first", facts.first.iso()},
                     {"last", facts.last.iso()},
                     {"count", std::to_string(facts.lines.size())},
                     {"released", count_of(facts.lines, core::LoadState::Released)},
                     {"failed", count_of(facts.lines, core::LoadState::Failed)},
                     {"others", others_of(facts.lines)},
                     {"time", names.local_time(facts.printed_at)}};
  if (!facts.office.empty()) gaps.emplace_back("office", facts.office);
  Document document;
  document.title = words.text("record.period.title", gaps);
  document.subtitles = {words.text("record.period.subtitle", gaps)};
  document.footer = words.text("record.period.footer", gaps);
  if (facts.lines.empty()) {
    document.blocks.emplace_back(Paragraph{words.text("record.period.none"), false});
  } else {
    document.blocks.emplace_back(Paragraph{words.text("record.period.counts", gaps), false});
    document.blocks.emplace_back(Heading{words.text("record.heading.summary")});
    document.blocks.emplace_back(summary_table(facts.lines, words));
  }
  document.blocks.emplace_back(Caution{words.text("record.caution")});
  return document;
}

}  // namespace loadlight::report
