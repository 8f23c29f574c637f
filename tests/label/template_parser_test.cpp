#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "loadlight/label/template.h"

using namespace loadlight;
using label::parse_template;

namespace {

const std::string kGood =
    "loadlight-label 1   # a comment\n"
    "\n"
    "for package\r\n"
    "sheet page=210,297 grid=3,8 first=0,0.5 pitch=70,37 cell=70,37\n"
    "text contents box=2,2,30,8 size=10 min=7.5 lines=2 bold align=center upright=bottom\n"
    "text operator box=2,12,30,4 size=8 heading=before heading-size=4\n"
    "text sterilizer box=2,16,10,4 size=8\n"
    "text load box=12,16,10,4 size=8\n"
    "text process-date box=22,16,10,4 size=8 heading=above\n"
    "text use-by box=2,20,10,4 size=8\n"
    "text event-related box=2,20,10,4 size=8\n"
    "text package box=40,30,26,4 size=8 mono\n"
    "text items box=2,24,30,4 size=5 optional\n"
    "words label.hint.placement box=2,28,30,4 size=4 optional\n"
    "symbol package box=40,2,26,26\n"
    "line box=2,11,30,0 width=0.3\n"
    "frame box=0,0,70,37\n";

std::string with(const std::string& old_text, const std::string& new_text) {
  std::string text = kGood;
  const auto at = text.find(old_text);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old_text.size(), new_text);
}

std::string detail(const core::Failure& failure, const std::string& name) {
  for (const auto& [key, value] : failure.details) {
    if (key == name) return value;
  }
  return "";
}

struct Bad final {
  std::string problem;
  std::string line;
  std::string text;
};

const std::string kTray =
    "loadlight-label 1\nfor tray-card\nroll cell=60,40\ntext contents box=0,0,9,9 size=8\n"
    "text operator box=0,0,9,9 size=8\ntext sterilizer box=0,0,9,9 size=8\ntext load box=0,0,9,9 size=8\n"
    "text process-date box=0,0,9,9 size=8\ntext count box=0,0,9,9 size=8\n";

std::vector<Bad> bad_templates() {
  return {
      {"too-large", "0", std::string(64 * 1024 + 1, '#')},
      {"too-large", "5",
       with("text contents", "text " + std::string(60, 'a') + std::string(60, ' ') +
                                 "a b c d e f g h i j k l m n o p q r s t u v w x y z")},
      {"not-text", "5", with("contents", "cont\xC3\xA9nts")},
      {"not-text", "5", with("contents", std::string{"con\0tents", 9})},
      {"header-missing", "0", ""},
      {"header-missing", "0", with("loadlight-label 1", "for package")},
      {"later-form", "1", with("loadlight-label 1", "loadlight-label 2")},
      {"statement-unknown", "16", with("line box", "circle box")},
      {"statement-repeated", "4", with("for package\r\n", "for package\nfor package\n")},
      {"statement-repeated", "5", with("cell=70,37\n", "cell=70,37\nroll cell=70,37\n")},
      {"statement-missing", "0", with("for package", "")},
      {"statement-missing", "0", with("sheet page=210,297 grid=3,8 first=0,0.5 pitch=70,37 cell=70,37", "")},
      {"value-missing", "15", with("symbol package box=40,2,26,26", "symbol package")},
      {"value-missing", "14", with("words label.hint.placement", "words")},
      {"value-unknown", "3", with("for package", "for parcel")},
      {"value-unknown", "5", with("align=center", "align=middle")},
      {"value-unknown", "5", with("bold", "bold=yes")},
      {"value-unknown", "5", with("bold", "italic")},
      {"value-repeated", "5", with("lines=2", "lines=2 lines=3")},
      {"number-expected", "5", with("lines=2", "lines=two")},
      {"number-expected", "5", with("lines=2", "lines=2.5")},
      {"number-expected", "5", with("box=2,2,30,8", "box=2,2,30")},
      {"number-expected", "5", with("box=2,2,30,8", "box=2,2,,8")},
      {"number-expected", "5", with("box=2,2,30,8", "box=nan,2,30,8")},
      {"number-expected", "5", with("box=2,2,30,8", "box=0x2,2,30,8")},
      {"number-expected", "4", with("grid=3,8", "grid=3.5,8")},
      {"number-out-of-range", "5", with("box=2,2,30,8", "box=-2,2,30,8")},
      {"number-out-of-range", "5", with("box=2,2,30,8", "box=2,2,1001,8")},
      {"number-out-of-range", "5", with("min=7.5", "min=10.5")},
      {"number-out-of-range", "4", with("grid=3,8", "grid=0,8")},
      {"field-unknown", "13", with("text items", "text patient")},
      {"field-missing", "0", with("text process-date", "text kind")},
      {"field-missing", "0", with("text event-related", "text kind")},
      {"field-not-optional", "0",
       with("text load box=12,16,10,4 size=8", "text load box=12,16,10,4 size=8 optional")},
      {"symbol-missing", "0", with("symbol package box=40,2,26,26", "")},
      {"symbol-repeated", "0", with("symbol package", "symbol package box=2,33,4,4\nsymbol package")},
      {"symbol-for-another", "0", with("symbol package", "symbol shelf-tag")},
      {"symbol-for-another", "0", with("line box=2,11,30,0 width=0.3", "symbol chart-copy box=2,33,4,4")},
      {"symbol-for-another", "0", kTray + "symbol package box=20,0,20,20\n"},
      {"symbol-covered", "0", with("box=40,30,26,4", "box=40,27.9,26,4")},
      {"symbol-covered", "0", with("line box=2,11,30,0", "line box=2,11,39,0")},
      {"outside-cell", "0", with("box=40,30,26,4", "box=45,30,26,4")},
      {"outside-cell", "18",
       with("frame box=0,0,70,37", "region copy box=60,30,5,5\nframe box=0,0,6,5\nend")},
      {"cells-outside-page", "0", with("first=0,0.5", "first=0,1.5")},
      {"cells-overlap", "0", with("pitch=70,37", "pitch=69,37")},
      {"region-open", "0", with("frame box=0,0,70,37", "region copy box=60,30,5,5")},
      {"region-open", "18",
       with("frame box=0,0,70,37", "region a box=60,30,5,5\nregion b box=60,30,5,5\nend\n")},
      {"region-not-open", "17", with("frame box=0,0,70,37", "end")},
  };
}

}  // namespace

TEST_CASE("A good template is read as it is written") {
  const auto made = parse_template("sheet", kGood);
  REQUIRE(made);
  CHECK(made->name == "sheet");
  CHECK(made->subject == label::Subject::Package);
  CHECK(made->grid.cells() == 24);
  CHECK(made->grid.cell(24).right() == Approx(210));
  CHECK(made->grid.cell(24).bottom() == Approx(296.5));
  CHECK(made->grid.cell(4).x == Approx(0));
  CHECK(made->grid.cell(4).y == Approx(37.5));
  REQUIRE(made->elements.size() == 13);
  const auto& contents = std::get<label::FieldText>(made->elements[0].what);
  CHECK(contents.shape.min_pt == 7.5);
  CHECK(contents.shape.lines == 2);
  CHECK(contents.shape.bold);
  CHECK(contents.shape.align == label::Align::Center);
  CHECK(contents.shape.upright == label::Upright::Bottom);
  CHECK(std::get<label::FieldText>(made->elements[1].what).heading == label::Heading::Before);
}

TEST_CASE("A tray card needs no symbol") {
  CHECK(parse_template("card", kTray));
}

TEST_CASE("Boxes in a region count from its corner") {
  const auto made = parse_template(
      "copy",
      with("frame box=0,0,70,37", "region copy box=2,32,20,5\nline box=1,1,2,2\nend\nframe box=0,0,70,37"));
  REQUIRE(made);
  const auto& line = made->elements[made->elements.size() - 2];
  CHECK(line.box.x == Approx(3));
  CHECK(line.box.y == Approx(33));
  CHECK(line.region == std::size_t{0});
}

TEST_CASE("What is wrong with a template is said with its line, and every problem can be met") {
  std::set<std::string> met;
  for (const Bad& bad : bad_templates()) {
    CAPTURE(bad.problem, bad.text);
    const auto made = parse_template("mine", bad.text);
    REQUIRE_FALSE(made);
    CHECK(made.failure().code == core::FailureCode::BadTemplate);
    CHECK(detail(made.failure(), "template") == "mine");
    CHECK(detail(made.failure(), "problem") == bad.problem);
    CHECK(detail(made.failure(), "line") == bad.line);
    met.insert(detail(made.failure(), "problem"));
  }
  for (const auto problem : label::all_template_problems()) CHECK(met.count(std::string{problem}) == 1);
}

TEST_CASE("No bytes make the template parser stumble") {
  std::mt19937 random{20261125};
  const auto any = [&](std::size_t below) { return random() % below; };
  int good = 0;
  for (int round = 0; round < 20000; ++round) {
    std::string text = kGood;
    for (std::size_t change = any(4) + 1; change > 0 && !text.empty(); --change) {
      const std::size_t at = any(text.size());
      switch (any(4)) {
        case 0:
          text[at] = static_cast<char>(any(256));
          break;
        case 1:
          text.erase(at, any(40));
          break;
        case 2:
          text.insert(at, text.substr(any(text.size()), any(40)));
          break;
        case 3:
          text.resize(at + 1);
          break;
      }
    }
    good += parse_template("random", text).ok() ? 1 : 0;
  }
  CHECK(good > 0);
  CHECK(good < 20000);
}
