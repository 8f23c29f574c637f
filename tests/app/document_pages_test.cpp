#include "app/document_pages.h"

#include <catch2/catch.hpp>

#include "app/curve_strokes.h"
#include "app/exchange_tables.h"
#include "label/plain_gauge.h"
#include "report/sample_facts.h"

namespace loadlight::tests {
namespace {

using report::ColumnKind;
using report::Document;
using report::Table;

constexpr double kSlack = 1e-6;

std::vector<label::Page> pages_of(const std::vector<Document>& documents,
                                  app::PageSize paper = app::PageSize::A4) {
  const PlainGauge gauge;
  app::DocumentPages pages{paper, gauge};
  for (const Document& document : documents) REQUIRE(pages.add(document));
  auto numbered = pages.take([](std::size_t page, std::size_t count) {
    return "page " + std::to_string(page) + " of " + std::to_string(count);
  });
  REQUIRE(numbered);
  return *std::move(numbered);
}

std::vector<label::DrawnText> texts_on(const label::Page& page) {
  std::vector<label::DrawnText> texts;
  for (const label::Drawn& item : page.items) {
    if (const auto* text = std::get_if<label::DrawnText>(&item)) texts.push_back(*text);
  }
  return texts;
}

int times_on(const label::Page& page, const std::string& text) {
  int times = 0;
  for (const label::DrawnText& each : texts_on(page)) times += each.text == text;
  return times;
}
int times_in(const std::vector<label::Page>& pages, const std::string& text) {
  int times = 0;
  for (const label::Page& page : pages) times += times_on(page, text);
  return times;
}

// No text of any page reaches beyond its edges.
void check_within(const std::vector<label::Page>& pages) {
  const PlainGauge gauge;
  for (const label::Page& page : pages) {
    for (const label::DrawnText& text : texts_on(page)) {
      CAPTURE(text.text);
      CHECK(text.x >= 15 - kSlack);
      CHECK(text.x + gauge.measure(text.text, text.style)->width <= page.width - 14);
      CHECK(text.baseline <= page.height - 4);
    }
  }
}

Document titled() {
  Document document;
  document.title = "A title";
  document.footer = "A footer";
  return document;
}

// A table of `rows` rows whose second cells take two lines.
Table tall_table(int rows) {
  Table table;
  table.columns = {{"Number", 1, ColumnKind::Text}, {"Words", 1, ColumnKind::Text}};
  for (int i = 0; i < rows; ++i) {
    const std::string n = std::to_string(i);
    table.rows.push_back({"row" + n, "first" + n + " " + std::string(40, 'x') + " last" + n});
  }
  return table;
}

bool holds(const label::Page& page, const std::string& part) {
  for (const label::DrawnText& text : texts_on(page)) {
    if (text.text.find(part) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("No row is broken, none is lost, and headings stand on every page of a table") {
  Document document = titled();
  document.blocks = {tall_table(200)};
  const auto pages = pages_of({document});
  REQUIRE(pages.size() > 2);
  for (int i = 0; i < 200; ++i) {
    const std::string n = std::to_string(i);
    CAPTURE(n);
    REQUIRE(times_in(pages, "row" + n) == 1);
    for (const label::Page& page : pages) {
      if (times_on(page, "row" + n) == 0) continue;
      CHECK(holds(page, "first" + n + " "));
      CHECK(holds(page, "last" + n));
    }
  }
  for (const label::Page& page : pages) CHECK(times_on(page, "Number") == 1);
  check_within(pages);
}

TEST_CASE("A table that goes on says what it is a part of, from its second page on") {
  Document document = titled();
  Table table = tall_table(200);
  table.continued = "shelf, continued";
  document.blocks = {table};
  const auto pages = pages_of({document});
  for (std::size_t i = 0; i < pages.size(); ++i)
    CHECK(times_on(pages[i], "shelf, continued") == (i > 0 ? 1 : 0));
}

TEST_CASE("A heading is never the last thing on a page, wherever it falls") {
  for (int lines = 40; lines < 90; ++lines) {
    Document document = titled();
    for (int i = 0; i < lines; ++i) document.blocks.emplace_back(report::Paragraph{"line", false});
    document.blocks.emplace_back(report::Heading{"The heading"});
    document.blocks.emplace_back(tall_table(1));
    const auto pages = pages_of({document});
    CAPTURE(lines);
    for (const label::Page& page : pages) CHECK(times_on(page, "The heading") == times_on(page, "row0"));
  }
}

TEST_CASE("A heading with nothing after it is still printed") {
  Document document = titled();
  document.blocks = {report::Heading{"One"}, report::Heading{"Two"}};
  const auto pages = pages_of({document});
  REQUIRE(pages.size() == 1);
  CHECK(times_in(pages, "One") == 1);
  CHECK(times_in(pages, "Two") == 1);
}

TEST_CASE("Pages are numbered over all documents, each document from a page of its own") {
  Document second = titled();
  second.title = "Another";
  second.blocks = {tall_table(100)};
  const auto pages = pages_of({titled(), second});
  for (std::size_t i = 0; i < pages.size(); ++i) {
    CHECK(times_on(pages[i], "page " + std::to_string(i + 1) + " of " + std::to_string(pages.size())) == 1);
    CHECK(times_on(pages[i], "A footer") == 1);
  }
  CHECK(times_on(pages[0], "Another") == 0);
  CHECK(times_on(pages[1], "Another") == 1);
  CHECK(times_on(pages[2], "Another") == 1);  // heads further pages too
}

TEST_CASE("What is put first is counted first") {
  const PlainGauge gauge;
  app::DocumentPages pages{app::PageSize::A4, gauge};
  REQUIRE(pages.add(titled()));
  app::DocumentPages summary = pages.beside();
  Document first = titled();
  first.title = "Summary";
  REQUIRE(summary.add(first));
  pages.put_first(std::move(summary));
  const auto numbered = pages.take([](std::size_t page, std::size_t) { return std::to_string(page); });
  REQUIRE(numbered);
  REQUIRE(numbered->size() == 2);
  CHECK(times_on(numbered->front(), "Summary") == 1);
  CHECK(times_on(numbered->front(), "1") == 1);
}

TEST_CASE("A cell taller than a page goes on on the next, and nothing of it is lost") {
  Document document = titled();
  std::string words;
  for (int i = 1000; i < 3000; ++i) words += (i > 1000 ? " w" : "w") + std::to_string(i);
  Table table;
  table.columns = {{"A", 1, ColumnKind::Text}, {"B", 6, ColumnKind::Text}};
  table.rows = {{words, "beside"}};
  document.blocks = {table};
  const auto pages = pages_of({document});
  CHECK(pages.size() > 5);
  std::string printed;
  for (const label::Page& page : pages) {
    for (const label::DrawnText& text : texts_on(page)) printed += text.text + " ";
  }
  for (int i = 1000; i < 3000; ++i) {
    if (printed.find("w" + std::to_string(i)) == std::string::npos) FAIL("lost word " << i);
  }
  check_within(pages);
}

TEST_CASE("A word too long for its cell is broken within it") {
  Document document = titled();
  Table table;
  table.columns = {{"A", 1, ColumnKind::Text}, {"B", 1, ColumnKind::Text}};
  table.rows = {{std::string(500, 'x'), "b"}};
  document.blocks = {table, report::Paragraph{std::string(5000, 'y'), false}};
  check_within(pages_of({document}));
}

TEST_CASE("Lines that run from right to left begin at the right") {
  Document document = titled();
  document.blocks = {report::Paragraph{"<right", false}, report::Paragraph{"left", false}};
  const auto pages = pages_of({document});
  for (const label::DrawnText& text : texts_on(pages[0])) {
    const double width = PlainGauge{}.measure(text.text, text.style)->width;
    if (text.text == "<right") CHECK(text.x + width == Approx(210 - 15));
    if (text.text == "left") CHECK(text.x == Approx(20));
  }
}

TEST_CASE("A character that no font has stands as its code, and control characters as spaces") {
  const PlainGauge gauge;
  const auto set = app::set_text("a~b~c\nd\x7f", {8, false, false}, 1000, gauge);
  REQUIRE(set);
  REQUIRE(set->lines.size() == 1);
  CHECK(set->lines[0].text == "a[U+007E]b[U+007E]c d ");
}

TEST_CASE("Bytes that are no UTF-8, and codes that turn directions, do not reach the page") {
  CHECK(app::legible("a\xC3\x28z") == "a?(z");
  CHECK(app::legible("\xED\xA0\x80") == "???");       // a surrogate
  CHECK(app::legible("\xF4\x90\x80\x80") == "????");  // beyond U+10FFFF
  CHECK(app::legible("\xC0\xAF") == "??");            // overlong
  CHECK(app::legible("a\xE2\x80\xAE"
                     "b") == "a b");  // U+202E
  CHECK(app::legible("a\xE2\x81\xA6"
                     "b") == "a b");  // U+2066
  CHECK(app::legible("\xC2\x85é€\U0001F9B7") == " é€\U0001F9B7");
  CHECK(app::legible("cut\xE2\x82") == "cut??");
}

TEST_CASE("Both papers keep everything within their edges") {
  for (const app::PageSize paper : {app::PageSize::A4, app::PageSize::Letter}) {
    Document document = titled();
    document.blocks = {report::Statement{"HEADLINE", std::string(300, 's')},
                       report::KeyValues{{{"key", "value"}, {"key", std::string(200, 'v')}, {"key", "v"}}},
                       tall_table(90), report::Caution{std::string(900, 'c')},
                       report::Signature{"name", "when", std::string(200, 'm')}};
    const auto pages = pages_of({document}, paper);
    CHECK(pages[0].width == Approx(paper == app::PageSize::A4 ? 210 : 215.9));
    check_within(pages);
  }
}

TEST_CASE("A tick box stands before each package, and none in an empty cell") {
  Document document = titled();
  Table table;
  table.columns = {{"Found", 1, ColumnKind::TickBox}, {"Package", 5, ColumnKind::Text}};
  table.rows = {{"box", "one"}, {"", "two"}};
  document.blocks = {table};
  int boxes = 0;
  const auto pages = pages_of({document});
  for (const label::Drawn& item : pages[0].items) {
    boxes += std::holds_alternative<label::DrawnFrame>(item);
  }
  CHECK(boxes == 1);
}

namespace {

// All that a page has of one kind.
template <class Kind>
std::vector<Kind> all_on(const label::Page& page) {
  std::vector<Kind> found;
  for (const label::Drawn& item : page.items) {
    if (const auto* each = std::get_if<Kind>(&item)) found.push_back(*each);
  }
  return found;
}

report::MarkedPicture picture_of(int width, int height) {
  report::MarkedPicture picture{"bytes", width, height, "a caption", {}};
  for (const core::Outcome outcome : {core::Outcome::Clear, core::Outcome::Hold, core::Outcome::DoNotUse}) {
    picture.marks.push_back({{{{1, 1}, {30, 1}, {30, 30}, {1, 30}}}, outcome, "17"});
  }
  return picture;
}

void check_pictures_within(const label::Page& page) {
  for (const label::DrawnPicture& picture : all_on<label::DrawnPicture>(page)) {
    CHECK(picture.x >= 15 - kSlack);
    CHECK(picture.x + picture.width <= page.width - 14);
    CHECK(picture.y + picture.height <= page.height - 12);
    CHECK(picture.width / picture.height == Approx(picture.pixels_wide * 1.0 / picture.pixels_high));
  }
}

}  // namespace

TEST_CASE("Pictures of any shape keep it, stay whole on a page and have their caption there") {
  for (const auto& [width, height] : {std::pair{1280, 720}, {720, 1280}, {400, 9000}, {9000, 40}, {3, 3}}) {
    CAPTURE(width, height);
    Document document = titled();
    for (int i = 0; i < 5; ++i) {
      document.blocks.emplace_back(report::Heading{"The heading"});
      document.blocks.emplace_back(picture_of(width, height));
    }
    const auto pages = pages_of({document});
    std::size_t count = 0;
    for (const label::Page& page : pages) {
      const auto here = all_on<label::DrawnPicture>(page).size();
      CHECK(times_on(page, "a caption") == static_cast<int>(here));
      CHECK(times_on(page, "The heading") == static_cast<int>(here));
      check_pictures_within(page);
      count += here;
    }
    CHECK(count == 5);
  }
}

TEST_CASE("Each mark's black strokes lie over white ones that are wider, and its number on white") {
  Document document = titled();
  document.blocks = {picture_of(640, 360)};
  const auto outlines = all_on<label::DrawnOutline>(pages_of({document})[0]);
  double black = 0, white = 0, plates = 0;
  for (const label::DrawnOutline& outline : outlines) {
    plates += outline.filled;
    if (!outline.filled) (outline.ink == label::Ink::White ? white : black) += outline.stroke;
  }
  CHECK(plates == 3);
  CHECK(white > black);
  CHECK(times_on(pages_of({document})[0], "17") == 3);
}

TEST_CASE("A picture without bytes is its caption alone") {
  Document document = titled();
  report::MarkedPicture none = picture_of(0, 0);
  none.jpeg.clear();
  document.blocks = {none, report::PictureGrid{{none, none}, 4}};
  const auto pages = pages_of({document});
  CHECK(all_on<label::DrawnPicture>(pages[0]).empty());
  CHECK(times_in(pages, "a caption") == 3);
}

TEST_CASE("Small pictures stand up to four abreast, none over another, none lost") {
  Document document = titled();
  report::PictureGrid grid;
  for (int i = 0; i < 42; ++i) grid.pictures.push_back(picture_of(100 + i, 90));
  document.blocks = {report::Heading{"The heading"}, grid};
  std::size_t count = 0;
  for (const label::Page& page : pages_of({document})) {
    const auto pictures = all_on<label::DrawnPicture>(page);
    check_pictures_within(page);
    for (std::size_t i = 1; i < pictures.size(); ++i) {
      const bool beside = pictures[i].x >= pictures[i - 1].x + pictures[i - 1].width;
      CHECK((beside || pictures[i].y >= pictures[i - 1].y + 10));
    }
    count += pictures.size();
  }
  CHECK(count == 42);
}

TEST_CASE("A reduced curve keeps its ends and no point lies further off than the tolerance") {
  std::vector<report::PlotPoint> curve;
  for (int i = 0; i <= 1000; ++i) curve.push_back({i * 0.1, i < 500 ? 10.0 : 10 + (i - 500) * 0.02});
  const auto few = app::reduced(curve, 0.05);
  CHECK(few.size() <= 4);
  CHECK(few.front().x == 0);
  CHECK(few.back().x == Approx(100));
  CHECK(app::reduced({{0, 0}, {1, 5}, {2, 0}}, 0.05).size() == 3);
}

TEST_CASE("Dashes and hatching stay on their curve and in their box") {
  const auto dashes = app::strokes_of({{0, 0}, {10, 0}, {10, 10}}, {0.2, 2, 1});
  double drawn = 0;
  for (const auto& line : dashes) drawn += std::abs(line.x2 - line.x1) + std::abs(line.y2 - line.y1);
  CHECK(drawn == Approx(14));  // six dashes of 2 and 1 of a length of 20: 2 of every 3, and the last 2
  for (const auto& line : app::hatching({5, 5, 30, 4}, 1.4, 0.1)) {
    for (double x : {line.x1, line.x2}) CHECK((x >= 5 - kSlack && x <= 35 + kSlack));
    for (double y : {line.y1, line.y2}) CHECK((y >= 5 - kSlack && y <= 9 + kSlack));
  }
}

TEST_CASE("The recall table names every package with its disposition, place and visit") {
  const auto facts = sample_recall(30);
  const std::string csv = app::recall_csv(facts);
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 31);
  CHECK(csv.rfind("package,contents,load,process_date,use_by,disposition,location,opened_at,visit,called_"
                  "back,why\r\n",
                  0) == 0);
  CHECK(csv.find(facts.packages[4].package.id.text()) != std::string::npos);
  CHECK(csv.find(",opened,") != std::string::npos);
  CHECK(csv.find("V-204,yes,") != std::string::npos);
}

TEST_CASE("The period table has a value for every column, in codes") {
  const std::string header = app::period_csv_header(), line = app::period_csv_line(sample_record());
  CHECK(std::count(header.begin(), header.end(), ',') == std::count(line.begin(), line.end(), ','));
  CHECK(line.rfind("S1-204,2026-11-25,S1,prevac-134,process,released,", 0) == 0);
  CHECK(line.find(",external:pass,no-growth:growth,24,no,AB,") != std::string::npos);
}

}  // namespace loadlight::tests
