#include "loadlight/report/audit_report.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <limits>

#include "loadlight/report/mark_shape.h"
#include "report/html.h"
#include "report/sample_audit.h"

namespace loadlight::report {
namespace {

using Catch::Contains;
using core::AuditStatus;
using core::Outcome;
using tests::sample_audit;

Words english() {
  std::ifstream file{LOADLIGHT_SOURCE_DIR "/templates/words/en.json", std::ios::binary};
  auto words = Words::parse(std::string{std::istreambuf_iterator<char>{file}, {}});
  if (!words) FAIL("the catalogue cannot be read");
  return *std::move(words);
}

struct AuditTexts final {
  std::string& all;

  void line(const std::string& text) const { all += text + "\n"; }
  void operator()(const Heading& b) const { line("# " + b.text); }
  void operator()(const Paragraph& b) const { line(b.text); }
  void operator()(const Statement& b) const { line("! " + b.headline + ": " + b.text); }
  void operator()(const Caution& b) const { line(b.text); }
  void operator()(const Curve&) const {}
  void operator()(const Signature& b) const { line("signed " + b.meaning); }
  void operator()(const MarkedPicture& b) const {
    line("(picture) " + b.caption);
    for (const PictureMark& mark : b.marks) line("(mark) " + mark.label);
  }
  void operator()(const PictureGrid& b) const {
    for (const MarkedPicture& picture : b.pictures) (*this)(picture);
  }
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

std::string text_of(const AuditFacts& facts) {
  const Document document = audit_document(facts, english());
  std::string all = document.title + "\n";
  for (const std::string& subtitle : document.subtitles) all += subtitle + "\n";
  for (const Block& block : document.blocks) std::visit(AuditTexts{all}, block);
  return all;
}

std::string page_of(const AuditFacts& facts) {
  return audit_page(facts, english());
}

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

AuditFacts with_picture() {
  AuditFacts facts = sample_audit();
  AuditPicture picture{12, "", "\xFF\xD8 not looked at \xFF\xD9", 400, 300, {}};
  for (const std::size_t row : {0, 11, 18}) {
    const double x = 50 + 8.0 * static_cast<double>(row);
    picture.marks.push_back({{{{x, 50}, {x + 40, 50}, {x + 40, 90}, {x, 90}}}, row});
  }
  facts.pictures = {picture};
  return facts;
}

TEST_CASE("An audit names office, location, who swept, when, frames and seconds") {
  const std::string text = text_of(sample_audit());
  CHECK_THAT(text, Contains("Shelf audit OP1-7"));
  CHECK_THAT(text, Contains("Operatory 1 drawer · Harbour Row Dental (demo)"));
  CHECK_THAT(text, Contains("Swept by Ada Berg (AB), 2026-11-25 14:03 +01:00 to 2026-11-25 14:05 +01:00"));
  CHECK_THAT(text, Contains("Sweep = 612 frames, 24.5 s"));
  CHECK_THAT(text, !Contains("CUT SHORT"));
}

TEST_CASE("A sweep that was cut short says so before anything else") {
  AuditFacts facts = sample_audit();
  facts.interrupted = true;
  facts.trouble = "The camera was unplugged.";
  const Document document = audit_document(facts, english());
  const auto* first = std::get_if<Statement>(&document.blocks.front());
  REQUIRE(first != nullptr);
  CHECK(first->headline == "CUT SHORT");
  CHECK_THAT(first->text, Contains("The camera was unplugged."));
  const std::string page = page_of(facts);
  CHECK(page.find("CUT SHORT") < page.find("TO PULL"));
  facts.trouble.clear();
  CHECK_THAT(text_of(facts), Contains("! CUT SHORT: The sweep was stopped before its end."));
}

TEST_CASE("Everything not clear or not in its place is to be pulled, once, by location, worst first") {
  const AuditFacts facts = sample_audit();
  const std::string text = text_of(facts);
  CHECK_THAT(text, Contains("! 9 TO PULL"));
  const auto drawer1 = text.find("# Pull from Operatory 1 drawer: 6");
  const auto drawer2 = text.find("# Pull from Operatory 2 drawer: 3");
  REQUIRE((drawer1 != std::string::npos && drawer2 != std::string::npos && drawer1 < drawer2));
  const std::string list = text.substr(drawer1, drawer2 - drawer1);
  const auto recalled = list.find("| 12 "), expired = list.find("| 8 "), held = list.find("| 19 ");
  const auto misplaced = list.find("| 26 ");
  CHECK((recalled < expired && expired < held && held < misplaced && misplaced != std::string::npos));
  for (std::size_t i = 0; i < facts.rows.size(); ++i) {
    const AuditRow& row = facts.rows[i];
    const bool pulled = row.outcome != Outcome::Clear || row.status != AuditStatus::Present;
    CAPTURE(i);
    CHECK(times(text, "| box | " + std::to_string(i + 1) + " |") == (pulled ? 1 : 0));
  }
}

TEST_CASE("What is pulled stands with every reason and what to do about each") {
  const AuditFacts facts = sample_audit();
  const std::string text = text_of(facts), page = page_of(facts);
  for (const AuditRow& row : facts.rows) {
    for (std::size_t i = 0; i < row.reasons.size(); ++i) {
      CHECK_THAT(text, Contains(row.reasons[i] + " " + row.actions[i]));
      CHECK_THAT(page, Contains(escaped_html(row.reasons[i])) && Contains(escaped_html(row.actions[i])));
    }
  }
  CHECK_THAT(text, Contains("It belongs in Clean room cabinet 1."));
}

TEST_CASE("What must not be used is not told to be put away where it belongs") {
  AuditFacts facts = sample_audit();
  facts.rows[7].status = AuditStatus::Misplaced;
  facts.rows[7].expected_at = "Far cabinet";
  CHECK_THAT(text_of(facts), !Contains("Bring it to Far cabinet"));
}

TEST_CASE("What is near its use-by day is to be used first, oldest first, unless it may not be used") {
  AuditFacts facts = sample_audit();
  facts.rows[7].near_use_by = true;  // past its use-by day
  facts.rows[1].use_by = "2026-12-30";
  const std::string text = text_of(facts);
  const auto first = text.find("# Use first: 3"), end = text.find("# Not seen");
  REQUIRE((first != std::string::npos && end != std::string::npos));
  const std::string list = text.substr(first, end - first);
  CHECK((list.find("| 3 ") < list.find("| 4 ") && list.find("| 4 ") < list.find("| 2 ")));
  CHECK_THAT(list, !Contains("| 8 "));
}

TEST_CASE("What was not seen stands by location, oldest first, and is not called lost") {
  const std::string text = text_of(sample_audit());
  const auto at = text.find("# Not seen at Operatory 1 drawer: 3");
  REQUIRE(at != std::string::npos);
  CHECK(text.find("2026-09-18", at) < text.find("2026-09-20", at));
  const char* sentence = "Only a person who has looked may call one not found.";
  CHECK_THAT(text, Contains("Stacked pouches hide labels.") && Contains(sentence));
  CHECK_THAT(page_of(sample_audit()), Contains("Stacked pouches hide labels.") && Contains(sentence));
}

TEST_CASE("An empty sweep says that it says nothing of the shelf") {
  AuditFacts facts;
  facts.audit = "OP1-1";
  const std::string text = text_of(facts);
  CHECK_THAT(text, Contains("! NO PACKAGE SEEN"));
  CHECK_THAT(text, !Contains("NOTHING TO PULL") && !Contains("«"));
  CHECK_THAT(page_of(facts), Contains("NO PACKAGE SEEN") && !Contains("«"));
}

TEST_CASE("Symbols that are not shown, and those of strangers, are counted where there are any") {
  AuditFacts facts = sample_audit();
  for (const std::string& all : {text_of(facts), page_of(facts)}) {
    CHECK_THAT(all, !Contains("Other symbols") && !Contains("are not shown"));
  }
  facts.unreadable_beyond = 12;
  facts.other_symbols = 7;
  CHECK_THAT(text_of(facts), Contains("Unreadable symbols = 15") && Contains("Could not be read: 15") &&
                                 Contains("12 more like these") && Contains("Other symbols = 7"));
  CHECK_THAT(page_of(facts), Contains("Could not be read: 15") && Contains("12 more like these") &&
                                 Contains("<dt>Other symbols</dt>"));
}

TEST_CASE("No text of an audit lacks its words, and none says sterile or passed") {
  AuditFacts facts = with_picture();
  facts.rows[0].seen_at.clear();
  facts.rows[1].package.clear();
  const std::string all = text_of(facts) + page_of(facts);
  CHECK_THAT(all, !Contains("«"));
  CHECK_THAT(all, !Contains("sterile") && !Contains("passed"));
  CHECK(times(text_of(facts), "Neither a record nor an indicator proves sterility") == 1);
  CHECK(times(page_of(facts), "Neither a record nor an indicator proves sterility") == 1);
}

TEST_CASE("Marks carry the number of their row, and one that names no row is left out") {
  AuditFacts facts = with_picture();
  facts.pictures[0].marks[1].row = 4000;
  CHECK_THAT(text_of(facts), Contains("(mark) 1\n") && Contains("(mark) 19\n") && !Contains("(mark) 4001"));
  CHECK_THAT(page_of(facts), Contains("href=\"#row-19\"") && !Contains("#row-4001"));
}

TEST_CASE("Outcomes are outlined in three ways that a copy in black and white tells apart") {
  const std::array<MarkPoint, 4> square{{{10, 10}, {50, 10}, {50, 50}, {10, 50}}};
  const auto clear = mark_shape(square, Outcome::Clear, {100, 100, 1}).strokes;
  const auto hold = mark_shape(square, Outcome::Hold, {100, 100, 1}).strokes;
  const auto use_not = mark_shape(square, Outcome::DoNotUse, {100, 100, 1}).strokes;
  CHECK((clear.size() == 1 && hold.size() == 2 && use_not.size() == 3));
  CHECK((clear[0].dashes.empty() && !hold[0].dashes.empty() && use_not[0].dashes.empty()));
  CHECK(use_not[0].width > 2 * clear[0].width);
}

TEST_CASE("A mark stays in its picture, and corners that are no numbers draw none") {
  const std::array<MarkPoint, 4> wide{{{-900, -900}, {900, -900}, {900, 900}, {-900, 900}}};
  for (const MarkStroke& stroke : mark_shape(wide, Outcome::DoNotUse, {100, 80, 1}).strokes) {
    for (const auto& [x, y] : stroke.points) CHECK((x >= 0 && x <= 100 && y >= 0 && y <= 80));
  }
  std::array<MarkPoint, 4> broken = wide;
  broken[2].first = std::numeric_limits<double>::quiet_NaN();
  CHECK(mark_shape(broken, Outcome::Clear, {100, 80, 1}).strokes.empty());
}

TEST_CASE("The page fetches nothing, runs nothing and names its language") {
  const std::string page = page_of(with_picture());
  CHECK_THAT(page, Contains("<html lang=\"en\">") && Contains("data:image/jpeg;base64,"));
  CHECK_THAT(page, !Contains("<script") && !Contains("<link") && !Contains("url(") && !Contains("@import"));
  CHECK_THAT(page, !Contains("http:") && !Contains("https:"));
  CHECK(times(page, "<img ") == times(page, " alt=\""));
  CHECK(times(page, "<th ") == times(page, "scope=\"col\""));
}

TEST_CASE("No text of the record becomes markup") {
  AuditFacts facts = with_picture();
  const std::string evil = "<script>alert(\"1\")</script><img src=x onerror='y'>";
  facts.office = facts.location = facts.operator_name = facts.begun = facts.ended = facts.trouble = evil;
  for (AuditRow& row : facts.rows) {
    row.package = row.load = row.contents = row.process_date = row.use_by = row.seen_at = evil;
    row.expected_at = row.file = evil;
    for (auto* texts : {&row.reasons, &row.actions, &row.notes}) *texts = {evil};
  }
  for (AuditMissing& each : facts.missing) each = {evil, evil, evil, evil, evil, evil};
  for (AuditUnreadable& each : facts.unreadable) each.file = evil;
  facts.pictures[0].file = evil;
  const std::string page = page_of(facts);
  CHECK_THAT(page, !Contains("<script") && !Contains("src=x onerror='y'>"));
  CHECK_THAT(page, Contains("&lt;script&gt;alert(&quot;1&quot;)"));
}

TEST_CASE("What is no UTF-8, no character or turns directions does not reach the page") {
  CHECK(escaped_html("a\xC3(z") == "a\xEF\xBF\xBD(z");
  CHECK(escaped_html("\xED\xA0\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");  // a surrogate
  CHECK(escaped_html("a\xE2\x80\xAE"
                     "b") == "a b");  // U+202E
  CHECK(escaped_html(std::string("a\0b", 3)) == "a b");
  CHECK(escaped_html("é€\U0001F9B7 & '") == "é€\U0001F9B7 &amp; &#39;");
}

// RFC 4648, section 10.
TEST_CASE("Pictures are written in base 64 as the standard's examples are") {
  const std::string head = "data:image/jpeg;base64,";
  CHECK(jpeg_data_uri("") == head);
  CHECK(jpeg_data_uri("f") == head + "Zg==");
  CHECK(jpeg_data_uri("fo") == head + "Zm8=");
  CHECK(jpeg_data_uri("foobar") == head + "Zm9vYmFy");
}

TEST_CASE("The table has a line for each package seen, not seen and unreadable, as wide as its headings") {
  const AuditFacts facts = sample_audit();
  const auto lines = audit_table(facts);
  REQUIRE(lines.size() == 1 + 40 + 5 + 3);
  for (const auto& line : lines) CHECK(line.size() == lines.front().size());
  CHECK(lines[12][1] == facts.rows[11].package);
  CHECK(lines[12][6] == "do-not-use");
  CHECK(lines[12][7] == "load-recalled");
  CHECK(lines[12][8] == "unexpected");
  CHECK(lines[41][0] == "not-seen");
  CHECK(lines[46][0] == "unreadable");
}

}  // namespace
}  // namespace loadlight::report
