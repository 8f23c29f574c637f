// print_sample_documents KIND OUT.pdf [letter]: an invented document (record, failed, recall, period,
// scripts) by the real press; print_sample_documents audit OUT.pdf OUT.html PICTURE.jpg...: an audit with
// these pictures of a shelf, 1280 pixels wide and 720 high, as pages and as a page. Exits with 1 and a line
// on standard error on failure.
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>

#include "app/document_pages.h"
#include "loadlight/render/render.h"
#include "report/sample_audit.h"
#include "report/sample_facts.h"

using namespace loadlight;

namespace {

template <class T>
T value_or_exit(core::Result<T> result) {
  if (result) return *std::move(result);
  std::cerr << core::to_text(result.failure().code);
  for (const auto& [key, value] : result.failure().details) std::cerr << " " << key << "=" << value;
  std::cerr << "\n";
  std::exit(1);
}

report::Words english() {
  std::ifstream file{LOADLIGHT_SOURCE_DIR "/templates/words/en.json", std::ios::binary};
  return value_or_exit(report::Words::parse(std::string{std::istreambuf_iterator<char>{file}, {}}));
}

void add(app::DocumentPages& pages, const report::Document& document) {
  if (const auto done = pages.add(document); !done) value_or_exit(core::Result<int>{done.failure()});
}

// Names in several scripts, one of them without any place to break.
report::LoadRecordFacts scripts_record() {
  report::LoadRecordFacts facts = tests::sample_record(206, 8);
  const char* names[] = {"Набор гигиены",  "طقم النظافة اليومي",
                         "स्वच्छता सेट",      "衛生器具一式",
                         "Σετ υγιεινής",   "ערכת היגיינה",
                         "\U0001F9B7 set", "Schneidezahnwurzelkanalaufbereitungsinstrumentensatz"};
  for (std::size_t i = 0; i < facts.packages.size(); ++i) facts.packages[i].contents = names[i];
  facts.office = "مختبر الأسنان (demo)";
  return facts;
}

void add_period(app::DocumentPages& pages, int loads, const report::Words& words) {
  report::PeriodFacts period;
  period.office = "Harbour Row Dental (demo)";
  period.first = *core::CivilDate::from(2026, 11, 1);
  period.last = *core::CivilDate::from(2026, 11, 30);
  for (int i = 0; i < loads; ++i) {
    const auto facts = i % 7 == 3 ? tests::failed_record() : tests::sample_record(100 + i, i % 30);
    add(pages, report::load_record(facts, tests::sample_names(), words));
    period.lines.push_back(report::period_line(facts, tests::sample_names(), words));
  }
  app::DocumentPages summary = pages.beside();
  add(summary, report::period_summary(period, tests::sample_names(), words));
  pages.put_first(std::move(summary));
}

std::string bytes_of(const char* path) {
  std::ifstream file{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{file}, {}};
}

// Marks where the demo's film has labels, more or less; each of the audit's rows once.
report::AuditFacts audit_of(int pictures, char** paths) {
  report::AuditFacts facts = tests::sample_audit();
  for (int i = 0; i < pictures; ++i) {
    report::AuditPicture picture{150 * i + 40, "", bytes_of(paths[i]), 1280, 720, {}};
    for (std::size_t k = 0; k < 14 && 14U * i + k < facts.rows.size(); ++k) {
      const double column = static_cast<double>(k % 7), line = static_cast<double>(k / 7);
      const double x = 60 + 175 * column, y = 180 + 230 * line, tilt = 3 * column;
      picture.marks.push_back(
          {{{{x, y + tilt}, {x + 100, y}, {x + 100 + tilt, y + 100}, {x + tilt, y + 100 + tilt}}},
           14 * static_cast<std::size_t>(i) + k});
    }
    facts.pictures.push_back(std::move(picture));
  }
  for (std::size_t i = 0; i < facts.unreadable.size() && pictures > 0; ++i) {
    facts.unreadable[i] = {facts.unreadable[i].frame, "", bytes_of(paths[0]), 1280, 720};
  }
  return facts;
}

void add_audit(app::DocumentPages& pages, int argc, char** argv, const report::Words& words) {
  const report::AuditFacts facts = audit_of(argc - 4, argv + 4);
  add(pages, report::audit_document(facts, words));
  std::ofstream{argv[3], std::ios::binary} << report::audit_page(facts, words);
}

void add_kind(const std::string& kind, app::DocumentPages& pages, const report::Words& words) {
  const auto names = tests::sample_names();
  if (kind == "record") add(pages, report::load_record(tests::sample_record(), names, words));
  if (kind == "failed") add(pages, report::load_record(tests::failed_record(), names, words));
  if (kind == "scripts") add(pages, report::load_record(scripts_record(), names, words));
  if (kind == "recall") add(pages, report::recall_notice(tests::sample_recall(90), names, words));
  if (kind == "period") add_period(pages, 60, words);
  if (kind == "year") add_period(pages, 2000, words);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const auto words = english();
  const auto gauge = render::make_text_gauge();
  const bool audit = argc > 3 && std::string{argv[1]} == "audit";
  app::DocumentPages pages{argc > 3 && !audit ? app::PageSize::Letter : app::PageSize::A4, *gauge};
  audit ? add_audit(pages, argc, argv, words) : add_kind(argv[1], pages, words);
  const auto numbered = value_or_exit(pages.take([&](std::size_t page, std::size_t count) {
    return words.text("record.page", {{"page", std::to_string(page)}, {"pages", std::to_string(count)}});
  }));
  const auto made = core::instant_from(1795615200000);  // 2026-11-25T14:00:00Z
  std::ofstream{argv[2], std::ios::binary} << value_or_exit(render::make_press()->print(numbered, made));
  return 0;
}
