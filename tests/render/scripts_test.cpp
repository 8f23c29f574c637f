// Names in any script, and names of any length, with the fonts that are really there.
#include <catch2/catch.hpp>

#include "loadlight/render/render.h"
#include "render/printed_sheet.h"

using namespace loadlight;
using core::FailureCode;
using label::Field;

namespace {

core::Result<label::LaidOut> lay_out(const std::string& template_name, const std::string& contents) {
  static const auto gauge = render::make_text_gauge();
  static const auto encoder = render::make_symbol_encoder();
  auto label = tests::sample_label(label::Subject::Package, 0);
  label.values[Field::Contents] = contents;
  return label::lay_out(tests::read_template(template_name), {label}, {}, tests::english(), *gauge, *encoder);
}

std::vector<label::DrawnText> texts_of(const label::LaidOut& laid_out) {
  std::vector<label::DrawnText> texts;
  for (const auto& item : laid_out.pages[0].items) {
    if (const auto* text = std::get_if<label::DrawnText>(&item)) texts.push_back(*text);
  }
  return texts;
}

std::string text_of_pdf(const label::LaidOut& laid_out) {
  const tests::WorkFolder folder;
  const auto pdf = render::make_press()->print(laid_out.pages, core::instant_from(0));
  REQUIRE(pdf);
  const std::string file = folder.write("labels.pdf", *pdf);
  CHECK(tests::run("qpdf --check " + file).status == 0);
  return tests::run_or_throw("pdftotext " + file + " -");
}

}  // namespace

TEST_CASE("A name in Latin, Greek, Cyrillic, Hebrew, Arabic, Devanagari, Thai or Han letters is printed") {
  const auto gauge = render::make_text_gauge();
  for (const std::string name : {"Kürettage-Set groß", "Σετ υγιεινής", "Набор гигиены", "ערכת היגיינה",
                                 "طقم النظافة", "स्वच्छता सेट", "ชุดทำความสะอาด", "衛生器具セット"}) {
    CAPTURE(name);
    const auto line = gauge->measure(name, {10, true, false});
    REQUIRE(line);
    CHECK(line->width > 10);
    const auto laid_out = lay_out("a4-24", name);
    REQUIRE(laid_out);
    CHECK(text_of_pdf(*laid_out).size() > 50);
  }
}

TEST_CASE("Greek, Cyrillic and Han names can be copied out of the PDF as they were written") {
  for (const std::string name : {"Σετ υγιεινής", "Набор гигиены", "衛生器具"}) {
    CHECK(text_of_pdf(*lay_out("a4-24", name)).find(name) != std::string::npos);
  }
}

TEST_CASE("Arabic and Hebrew names stand at the right edge of their box") {
  const auto made = tests::read_template("a4-24");
  const auto gauge = render::make_text_gauge();
  for (const std::string name : {"طقم النظافة", "ערכת היגיינה"}) {
    const auto line = gauge->measure(name, {10.5, true, false});
    REQUIRE(line);
    CHECK(line->right_to_left);
    const auto laid_out = lay_out("a4-24", name);
    REQUIRE(laid_out);
    const auto drawn = texts_of(*laid_out).front();
    REQUIRE(drawn.text == name);
    const auto width = gauge->measure(name, drawn.style)->width;
    CHECK(drawn.x + width == Approx(made.elements.front().box.right()));
  }
}

TEST_CASE("A character that no font has is an error that names it") {
  const auto laid_out = lay_out("a4-24", "Set \xF3\xB0\x80\x80");  // U+F0000, private use
  REQUIRE_FALSE(laid_out);
  CHECK(laid_out.failure().code == FailureCode::GlyphMissing);
  bool named = false;
  for (const auto& [key, value] : laid_out.failure().details) named = named || value == "U+F0000";
  CHECK(named);
}

TEST_CASE("Longer and longer contents shrink, then break, then are refused, on every package template") {
  for (const std::string& name : tests::template_names()) {
    if (tests::read_template(name).subject != label::Subject::Package) continue;
    CAPTURE(name);
    bool broke = false;
    int words = 1;
    std::string contents = "Mirror";
    core::Result<label::LaidOut> laid_out = lay_out(name, contents);
    for (; laid_out && words < 40; laid_out = lay_out(name, contents)) {
      std::string whole;
      bool on_one_line = false;
      for (const auto& text : texts_of(*laid_out)) {
        whole += text.text + " ";
        on_one_line = on_one_line || text.text == contents;
      }
      CHECK(whole.find(contents) != std::string::npos);
      broke = broke || !on_one_line;
      contents += " tweezers" + std::to_string(++words);
    }
    CHECK(broke);
    CHECK(words > 3);
    REQUIRE_FALSE(laid_out);
    CHECK(laid_out.failure().code == FailureCode::FieldDoesNotFit);
  }
}

TEST_CASE("A use-by date and an event-related statement both fit every package template") {
  for (const std::string& name : tests::template_names()) {
    for (auto shelf_life : {tests::ShelfLife::UseBy, tests::ShelfLife::EventRelated}) {
      for (auto length : {tests::Length::Usual, tests::Length::Longest}) {
        CHECK_NOTHROW(tests::print_sheet(name, 300, length, shelf_life));
      }
    }
  }
}

TEST_CASE("Measured lines add up to the text and keep within the width") {
  const auto gauge = render::make_text_gauge();
  const std::string text = "Endodontic set with rotary files and obturation";
  const auto lines = gauge->break_lines(text, {8, false, false}, 30, label::BreakAt::Words);
  REQUIRE(lines);
  REQUIRE(lines->size() >= 2);
  std::string whole;
  for (const auto& line : *lines) {
    CHECK(line.width <= 30);
    whole += (whole.empty() ? "" : " ") + line.text;
  }
  CHECK(whole == text);
}
