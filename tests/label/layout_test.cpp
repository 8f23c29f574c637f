#include "loadlight/label/layout.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "label/plain_gauge.h"

using namespace loadlight;
using core::FailureCode;
using label::DrawnSymbol;
using label::DrawnText;
using label::Field;
using label::LabelContent;
using label::LayoutOptions;

namespace {

const tests::PlainGauge kGauge;
const tests::BlankEncoder kEncoder;
const label::Words kWords = [](std::string_view key, const core::Details&) -> std::optional<std::string> {
  if (key == "label.absent") return std::nullopt;
  return "Words";
};

label::LabelTemplate sheet(const std::string& more = "", const std::string& symbol_box = "40,2,26,26") {
  auto made = label::parse_template(
      "sheet",
      "loadlight-label 1\nfor package\nsheet page=210,297 grid=3,8 first=0,0.5 pitch=70,37 cell=70,37\n"
      "text contents box=2,2,30,4 size=10 min=5\ntext operator box=2,12,30,4 size=8\n"
      "text sterilizer box=2,16,10,4 size=8\ntext load box=12,16,20,4 size=8\n"
      "text process-date box=2,20,30,4 size=8 heading=before\ntext use-by box=2,24,30,8 size=8 "
      "heading=above\n"
      "text event-related box=2,24,30,4 size=8\ntext package box=40,32,26,4 size=8\n"
      "symbol package box=" +
          symbol_box + "\n" + more);
  REQUIRE(made);
  return *made;
}

LabelContent content(const std::string& package = "ABC-DEF-GHJK") {
  LabelContent made;
  made.values = {{Field::Contents, "Mirror"},        {Field::Operator, "AB"},
                 {Field::Sterilizer, "S1"},          {Field::Load, "204"},
                 {Field::ProcessDate, "2026-11-25"}, {Field::UseBy, "2027-05-25"},
                 {Field::Package, package}};
  made.payload = std::string(74, 'A');
  return made;
}

core::Result<label::LaidOut> lay_out(const label::LabelTemplate& on, const std::vector<LabelContent>& labels,
                                     const LayoutOptions& options = {}) {
  return label::lay_out(on, labels, options, kWords, kGauge, kEncoder);
}

std::string detail(const core::Failure& failure, const std::string& name) {
  for (const auto& [key, value] : failure.details) {
    if (key == name) return value;
  }
  return "";
}

template <class T>
std::vector<T> drawn(const label::Page& page) {
  std::vector<T> found;
  for (const auto& item : page.items) {
    if (const auto* one = std::get_if<T>(&item)) found.push_back(*one);
  }
  return found;
}

bool shows(const label::Page& page, const std::string& text) {
  for (const auto& item : drawn<DrawnText>(page)) {
    if (item.text == text) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("Labels fill cells from the first one given, and go on over the page") {
  LayoutOptions options;
  options.first_cell = 23;
  const auto laid_out = lay_out(sheet(), {content(), content(), content()}, options);
  REQUIRE(laid_out);
  REQUIRE(laid_out->pages.size() == 2);
  CHECK(laid_out->labels[0].cell == 23);
  CHECK(laid_out->labels[2].cell == 25);
  CHECK(laid_out->labels[1].page == 0);
  CHECK(laid_out->labels[2].page == 1);
  CHECK(drawn<DrawnSymbol>(laid_out->pages[0]).size() == 2);
}

TEST_CASE("A jammed strip printed again by its cells keeps its places") {
  const std::vector<LabelContent> all(30, content());
  const auto first = lay_out(sheet(), all);
  LayoutOptions options;
  options.cells = {26, 27};
  const auto again = lay_out(sheet(), {all[25], all[26]}, options);
  REQUIRE(first);
  REQUIRE(again);
  REQUIRE(again->pages.size() == 1);  // the first sheet has no label of these
  CHECK(again->labels[0].page == 0);
  const auto before = drawn<DrawnSymbol>(first->pages[1]);
  const auto after = drawn<DrawnSymbol>(again->pages[0]);
  REQUIRE(after.size() == 2);
  CHECK(after[0].x_dots == before[1].x_dots);
  CHECK(after[0].y_dots == before[1].y_dots);
  CHECK(after[1].x_dots == before[2].x_dots);
}

TEST_CASE("Cells, counts, dots and nudges outside their range are refused") {
  const std::vector<LabelContent> two{content(), content()};
  const auto code = [&](auto change) {
    LayoutOptions options;
    change(options);
    const auto laid_out = lay_out(sheet(), two, options);
    REQUIRE_FALSE(laid_out);
    return laid_out.failure().code;
  };
  CHECK(code([](auto& o) { o.first_cell = 0; }) == FailureCode::CellOutsideSheet);
  CHECK(code([](auto& o) { o.first_cell = 25; }) == FailureCode::CellOutsideSheet);
  CHECK(code([](auto& o) { o.cells = {0, 1}; }) == FailureCode::CellOutsideSheet);
  CHECK(code([](auto& o) { o.cells = {1, 100001}; }) == FailureCode::CellOutsideSheet);
  CHECK(code([](auto& o) { o.cells = {1, 1}; }) == FailureCode::BadValue);
  CHECK(code([](auto& o) { o.cells = {1}; }) == FailureCode::BadValue);
  CHECK(code([](auto& o) { o.dpi = 9; }) == FailureCode::BadValue);
  CHECK(code([](auto& o) { o.dpi = 1201; }) == FailureCode::BadValue);
  CHECK(code([](auto& o) { o.nudge_x = 10.01; }) == FailureCode::BadValue);
  CHECK(code([](auto& o) { o.nudge_y = std::nan(""); }) == FailureCode::BadValue);
  CHECK(lay_out(sheet(), {}).failure().code == FailureCode::BadValue);
  CHECK(lay_out(sheet(), std::vector<LabelContent>(2001, content())).failure().code == FailureCode::BadValue);
}

TEST_CASE("A nudge moves everything, the symbol by whole dots") {
  LayoutOptions options;
  options.nudge_x = 1;
  options.nudge_y = -0.4;
  const auto plain = lay_out(sheet(), {content()});
  const auto nudged = lay_out(sheet(), {content()}, options);
  REQUIRE(nudged);
  const auto a = drawn<DrawnSymbol>(plain->pages[0])[0];
  const auto b = drawn<DrawnSymbol>(nudged->pages[0])[0];
  CHECK(std::abs(b.x_dots - a.x_dots - 300 / 25.4) <= 1);
  CHECK(std::abs(b.y_dots - a.y_dots + 0.4 * 300 / 25.4) <= 1);
  CHECK(b.module_dots == a.module_dots);
  CHECK(drawn<DrawnText>(nudged->pages[0])[0].x - drawn<DrawnText>(plain->pages[0])[0].x == Approx(1));
}

TEST_CASE("A nudge that carries something off the page is an error, not a cut") {
  LayoutOptions options;
  options.nudge_x = -2.01;
  auto laid_out = lay_out(sheet(), {content()}, options);
  REQUIRE_FALSE(laid_out);
  CHECK(laid_out.failure().code == FailureCode::FieldDoesNotFit);
  options.nudge_x = 4.01;
  options.first_cell = 3;
  laid_out = lay_out(sheet(), {content()}, options);
  REQUIRE_FALSE(laid_out);
  CHECK((laid_out.failure().code == FailureCode::QuietZoneTooSmall ||
         laid_out.failure().code == FailureCode::FieldDoesNotFit));
}

TEST_CASE("The symbol and its quiet zone lie inside its box in every cell at every dot size") {
  const auto on = sheet();
  for (int dpi : {203, 300, 305, 600, 1200}) {
    LayoutOptions options;
    options.dpi = dpi;
    options.nudge_x = 0.123;
    const auto laid_out = lay_out(on, std::vector<LabelContent>(24, content()), options);
    REQUIRE(laid_out);
    const auto symbols = drawn<DrawnSymbol>(laid_out->pages[0]);
    REQUIRE(symbols.size() == 24);
    for (int cell = 1; cell <= 24; ++cell) {
      const auto& symbol = symbols[static_cast<std::size_t>(cell - 1)];
      const double dot = 25.4 / dpi;
      const double quiet = 4 * symbol.module_dots * dot;
      const double side = symbol.grid.form.side() * symbol.module_dots * dot;
      const auto box = on.grid.cell(cell).moved(40 + 0.123, 2);
      CHECK(symbol.x_dots * dot - quiet >= box.x - 1e-6);
      CHECK(symbol.x_dots * dot + side + quiet <= box.x + 26 + 1e-6);
      CHECK(symbol.y_dots * dot - quiet >= box.y - 1e-6);
      CHECK(symbol.y_dots * dot + side + quiet <= box.y + 26 + 1e-6);
      CHECK(symbol.module_dots == symbols[0].module_dots);
    }
  }
}

TEST_CASE("A required field that cannot fit is an error that names it") {
  auto long_name = content();
  long_name.values[Field::Contents] = std::string(60, 'm');
  const auto laid_out = lay_out(sheet(), {content(), long_name});
  REQUIRE_FALSE(laid_out);
  CHECK(laid_out.failure().code == FailureCode::FieldDoesNotFit);
  CHECK(detail(laid_out.failure(), "field") == "contents");
  CHECK(detail(laid_out.failure(), "package") == "ABC-DEF-GHJK");
}

TEST_CASE("An optional field that cannot fit is left out whole, with one warning") {
  auto label = content();
  label.values[Field::Items] = std::string(80, 'm');
  const auto laid_out =
      lay_out(sheet("text items box=2,6,30,3 size=5 optional heading=above\n"), {label, label});
  REQUIRE(laid_out);
  CHECK_FALSE(shows(laid_out->pages[0], label.values[Field::Items]));
  REQUIRE(laid_out->warnings.size() == 1);
  CHECK(laid_out->warnings[0].code == "left-out");
  CHECK(laid_out->warnings[0].details.front().second == "items");
}

TEST_CASE("A required value that is missing or empty is refused") {
  for (Field field : {Field::Contents, Field::Operator, Field::Sterilizer, Field::Load, Field::ProcessDate,
                      Field::Package}) {
    auto label = content();
    label.values[field] = "";
    CHECK(lay_out(sheet(), {label}).failure().code == FailureCode::BadValue);
    label.values.erase(field);
    const auto laid_out = lay_out(sheet(), {label});
    REQUIRE_FALSE(laid_out);
    CHECK(detail(laid_out.failure(), "field") == to_text(field));
  }
}

TEST_CASE("A label carries a use-by date or the event-related statement, and exactly one of them") {
  auto label = content();
  label.values[Field::EventRelated] = "Do not use if torn";
  CHECK(lay_out(sheet(), {label}).failure().code == FailureCode::BadValue);
  label.values.erase(Field::UseBy);
  REQUIRE(lay_out(sheet(), {label}));
  CHECK(shows(lay_out(sheet(), {label})->pages[0], "Do not use if torn"));
  label.values.erase(Field::EventRelated);
  CHECK(lay_out(sheet(), {label}).failure().code == FailureCode::BadValue);
}

TEST_CASE("A character without a font, broken text and a missing word are errors") {
  auto label = content();
  label.values[Field::Contents] = "Mir~or";
  CHECK(lay_out(sheet(), {label}).failure().code == FailureCode::GlyphMissing);
  CHECK(detail(lay_out(sheet(), {label}).failure(), "field") == "contents");
  label.values[Field::Contents] = "Mir\xFFor";
  CHECK(lay_out(sheet(), {label}).failure().code == FailureCode::BadEncoding);
  const auto absent = lay_out(sheet("words label.absent box=2,6,30,3 size=5\n"), {content()});
  REQUIRE_FALSE(absent);
  CHECK(absent.failure().code == FailureCode::WordsUnreadable);
  CHECK(detail(absent.failure(), "key") == "label.absent");
}

TEST_CASE("A symbol without a text is refused") {
  auto label = content();
  label.payload.clear();
  CHECK(lay_out(sheet(), {label}).failure().code == FailureCode::BadValue);
}

TEST_CASE("Small modules are laid out with one warning, too small a box is an error") {
  const auto warned = lay_out(sheet("", "40,2,10,10"), {content(), content()});
  REQUIRE(warned);
  REQUIRE(warned->warnings.size() == 1);
  CHECK(warned->warnings[0].code == "module-small");
  CHECK(lay_out(sheet("", "40,2,3,3"), {content()}).failure().code == FailureCode::QuietZoneTooSmall);
  CHECK(lay_out(sheet("", "40,2,2,2"), {content()}).failure().code == FailureCode::SymbolDoesNotFit);
}

TEST_CASE("The forms that the record keeps draw the same symbols again") {
  const auto first = lay_out(sheet(), {content()});
  REQUIRE(first);
  auto reprint = content();
  reprint.form = first->labels[0].form;
  reprint.form->mask = 2;
  const auto again = lay_out(sheet(), {reprint});
  REQUIRE(again);
  CHECK(again->labels[0].form == reprint.form);
  CHECK(again->labels[0].module_dots == first->labels[0].module_dots);
}

TEST_CASE("A test page shows every cell's outline and takes a nudge") {
  const auto page = label::lay_out_test_page(sheet(), 0, 0, kWords, kGauge);
  REQUIRE(page);
  CHECK(drawn<label::DrawnFrame>(*page).size() == 24);
  CHECK(shows(*page, "200"));
  CHECK(shows(*page, "20, 20"));
  CHECK(label::lay_out_test_page(sheet(), 11, 0, kWords, kGauge).failure().code == FailureCode::BadValue);
}
