#include "loadlight/report/load_record.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>

#include "loadlight/report/period_record.h"
#include "loadlight/report/recall_notice.h"
#include "report/sample_facts.h"

// What a load record must hold: facts of the trade 1.6 (sterilizer, load number, date and time, who ran and
// who released, contents and quantity, exposure time, temperature and pressure, indicators with lots and
// control).

namespace loadlight::report {
namespace {

Words english() {
  std::ifstream file{LOADLIGHT_SOURCE_DIR "/templates/words/en.json", std::ios::binary};
  auto words = Words::parse(std::string{std::istreambuf_iterator<char>{file}, {}});
  if (!words) FAIL("the catalogue cannot be read");
  return *std::move(words);
}

struct TextsOf final {
  std::string& all;

  void line(const std::string& text) const { all += text + "\n"; }
  void operator()(const Heading& b) const { line("# " + b.text); }
  void operator()(const Paragraph& b) const { line(b.text); }
  void operator()(const Statement& b) const { line("! " + b.headline + ": " + b.text); }
  void operator()(const Caution& b) const { line(b.text); }
  void operator()(const Curve&) const { line("(curve)"); }
  void operator()(const MarkedPicture& b) const { line("(picture) " + b.caption); }
  void operator()(const PictureGrid& b) const {
    for (const MarkedPicture& picture : b.pictures) (*this)(picture);
  }
  void operator()(const Signature& b) const { line("signed " + b.name + " | " + b.when + " | " + b.meaning); }
  void operator()(const KeyValues& b) const {
    for (const KeyValue& row : b.rows) line(row.key + " = " + row.value);
  }
  void operator()(const Table& b) const {
    for (const TableRow& row : b.rows) {
      std::string cells;
      for (const std::string& cell : row) cells += "| " + cell + " ";
      line(cells);
    }
  }
};

std::string text_of(const Document& document) {
  std::string all = document.title + "\n";
  for (const Block& block : document.blocks) std::visit(TextsOf{all}, block);
  return all;
}

std::string record_text(const LoadRecordFacts& facts) {
  return text_of(load_record(facts, tests::sample_names(), english()));
}

using Catch::Contains;

TEST_CASE("A load record names sterilizer, number, time, operator, releaser, program and its source") {
  const std::string text = record_text(tests::sample_record());
  CHECK_THAT(text, Contains("Load record S1-204"));
  CHECK_THAT(text, Contains("Sterilizer = Front steam (S1)"));
  CHECK_THAT(text, Contains("Started = 2026-11-25 09:03 +00:00, Cem Duran (CD)"));
  CHECK_THAT(text, Contains("Ended = 2026-11-25 09:45 +00:00, Cem Duran (CD)"));
  CHECK_THAT(text, Contains("prevac-134: 134.0 °C, 3.0 min, drying 16 min"));
  CHECK_THAT(text, Contains("Program's source = CDC 2008, Table 7"));
  CHECK_THAT(text, Contains("Profile = us-cdc-2003 2"));
  CHECK_THAT(text, Contains("packages: 24, 3 × Trays, unwrapped"));
}

// Signed records state the printed name, date and time, and what the signature means: 21 CFR 11.50.
TEST_CASE("A release is signed with name, time with offset, and meaning") {
  const std::string text = record_text(tests::sample_record());
  CHECK_THAT(text, Contains("! RELEASED: By Ada Berg (AB), 2026-11-25 09:52 +00:00."));
  CHECK_THAT(
      text,
      Contains("signed Ada Berg (AB) | 2026-11-25 09:52 +00:00 | released the load on the evidence above"));
}

TEST_CASE("An emergency release is signed by both persons with its reason") {
  LoadRecordFacts facts = tests::sample_record();
  facts.load.emergency_reason = "no other set";
  facts.load.emergency_second = "CD";
  const std::string text = record_text(facts);
  CHECK_THAT(text, Contains("before its biological result: no other set"));
  CHECK_THAT(text, Contains("signed Cem Duran (CD) | 2026-11-25 09:52 +00:00 | agreed"));
}

TEST_CASE("Every criterion is a line with its measured value, limit, margin and source") {
  const LoadRecordFacts facts = tests::failed_record();
  const Document document = load_record(facts, tests::sample_names(), english());
  const std::string text = text_of(document);
  for (const core::CriterionResult& line : facts.criteria) {
    CAPTURE(line.code);
    CHECK_THAT(text, Contains("| " + english().text("criterion." + std::string{line.code}) + " |"));
    CHECK_THAT(text, Contains(std::string{line.source}));
  }
  CHECK_THAT(text, Contains("| 2.60 min | at least 3.00 min | -0.40 min | NOT MET |"));
  CHECK_THAT(text, Contains("(curve)"));
  CHECK_THAT(text, Contains("! FAILED"));
  CHECK_THAT(text, Contains("In the suspect range of incident 7."));
  CHECK_THAT(text, Contains(english().text("reason.exposure-short.text")));
}

TEST_CASE("Indicators stand with type, lot, expiry, result and reader, a biological one with its control") {
  const std::string text = record_text(tests::sample_record());
  CHECK_THAT(text, Contains("| external | 1 | X77 | 2027-06-30 |"));
  CHECK_THAT(text, Contains("| passed | 2026-11-25 09:48 +00:00, Cem Duran (CD)"));
  CHECK_THAT(text, Contains("| B12 | no growth, control grew |"));
}

TEST_CASE("A biological indicator without a result is awaited, with its due time") {
  CHECK_THAT(record_text(tests::failed_record()),
             Contains("| awaited |") && Contains("due 2026-11-26 09:00"));
}

TEST_CASE("A load without evidence says so and is not decided") {
  LoadRecordFacts facts;
  facts.load.name = {"S1", 9};
  facts.load.state = core::LoadState::Finished;
  const std::string text = record_text(facts);
  CHECK_THAT(text, Contains("! ENDED, NOT DECIDED: No decision is recorded."));
  CHECK_THAT(text, Contains("None is recorded."));
  CHECK_THAT(text, Contains("None was run with this load."));
  CHECK_THAT(text, !Contains("signed"));
  CHECK_THAT(text, !Contains("RELEASED"));
}

TEST_CASE("A recalled load does not stand under the name of whoever released it") {
  LoadRecordFacts facts = tests::sample_record();
  facts.load.state = core::LoadState::Recalled;
  facts.incidents = {3};
  CHECK_THAT(record_text(facts), Contains("! RECALLED: In the suspect range of incident 3."));
}

TEST_CASE("Evidence worked out under another profile than the decision's is marked") {
  LoadRecordFacts facts = tests::sample_record();
  facts.profile = "us-cdc-2008 1";
  const std::string text = record_text(facts);
  CHECK_THAT(text, Contains("Profile = us-cdc-2003 2"));
  CHECK_THAT(text, Contains("in force at printing: us-cdc-2008 1"));
}

TEST_CASE("Every record and notice carries the caution") {
  CHECK_THAT(record_text(tests::sample_record()), Contains("it does not prove sterility"));
  const auto notice = recall_notice(tests::sample_recall(), tests::sample_names(), english());
  CHECK_THAT(text_of(notice), Contains("licensed practice come first"));
}

TEST_CASE("Every state of a load, standing, place and meaning has its words") {
  const Words words = english();
  const auto check = [&words](const char* prefix, auto of) {
    for (const auto& term : core::Vocabulary<decltype(of)>::kTerms) {
      CAPTURE(prefix, term.text);
      CHECK(words.has(prefix + std::string{term.text}));
    }
  };
  check("record.state.", core::LoadState{});
  check("record.purpose.", core::LoadPurpose{});
  check("record.standing.", core::Standing{});
  check("record.place.", core::IndicatorPlace{});
  check("record.test.", core::BiologicalTest{});
  check("record.control.", core::BiologicalControl{});
  check("record.package-state.", core::PackageState{});
  check("notice.cause.", core::IncidentCause{});
  check("notice.procedure.", core::Procedure{});
  check("notice.reach.", core::RecallReach{});
  check("notice.disposition.", core::Disposition{});
}

TEST_CASE("No text of a record or notice lacks its words") {
  const Words words = english();
  std::string all = record_text(tests::sample_record()) + record_text(tests::failed_record());
  all += text_of(recall_notice(tests::sample_recall(), tests::sample_names(), words));
  PeriodFacts period;
  period.lines = {period_line(tests::sample_record(), tests::sample_names(), words)};
  all += text_of(period_summary(period, tests::sample_names(), words));
  CHECK_THAT(all, !Contains("«"));
}

TEST_CASE(
    "A recall notice lists every package once, to be found by place, opened with its visit, or not found") {
  const RecallNoticeFacts facts = tests::sample_recall();
  const std::string text = text_of(recall_notice(facts, tests::sample_names(), english()));
  for (const SuspectPackage& each : facts.packages) {
    const std::string id = each.package.id.grouped();
    CAPTURE(id);
    const auto at = text.find(id);
    REQUIRE(at != std::string::npos);
    CHECK(text.find(id, at + 1) == std::string::npos);
    const bool box = text.rfind("| box ", at) != std::string::npos && text.rfind("| box ", at) + 8 == at;
    CHECK(box == !each.disposition);
  }
  CHECK_THAT(text, Contains("# Cabinet 2, middle shelf: "));
  CHECK_THAT(text, Contains("# No place on record: "));
  CHECK_THAT(text, Contains("| V-204 "));
  CHECK_THAT(text, Contains("| none on record "));
  CHECK_THAT(text, Contains("searched every shelf twice"));
}

TEST_CASE("A notice that recalls nothing yet asks to hold") {
  RecallNoticeFacts facts = tests::sample_recall();
  facts.incident.recall = core::RecallReach::Nothing;
  for (SuspectPackage& each : facts.packages) each.called_back = false;
  const std::string text = text_of(recall_notice(facts, tests::sample_names(), english()));
  CHECK_THAT(text, Contains("! HOLD THESE PACKAGES"));
  CHECK_THAT(text, Contains("held, not called back"));
}

TEST_CASE("A period's summary has a line a load with its decision and biological result") {
  const Words words = english();
  PeriodFacts period;
  period.first = *core::CivilDate::from(2026, 11, 1);
  period.last = *core::CivilDate::from(2026, 11, 30);
  for (const auto& facts : {tests::sample_record(), tests::failed_record()}) {
    period.lines.push_back(period_line(facts, tests::sample_names(), words));
  }
  const std::string text = text_of(period_summary(period, tests::sample_names(), words));
  CHECK_THAT(text,
             Contains("| S1-204 | 2026-11-25 |") && Contains("| 24 | RELEASED | no growth, control grew |"));
  CHECK_THAT(text, Contains("| FAILED | awaited |"));
  CHECK_THAT(text, Contains("Released 1, failed 1, others 0."));
}

TEST_CASE("Rows set abreast keep their order and lose nothing") {
  Table table;
  table.columns = {{"a", 1, ColumnKind::Text}};
  table.rows = {{"1"}, {"2"}, {"3"}};
  const Table wide = set_abreast(table, 2);
  CHECK(wide.columns.size() == 2);
  CHECK(wide.rows == std::vector<TableRow>{{"1", "2"}, {"3", ""}});
}

}  // namespace
}  // namespace loadlight::report
