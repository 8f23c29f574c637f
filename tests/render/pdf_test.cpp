// The PDF itself: the same bytes on every run and in every locale, whole by qpdf's judgement, its fonts
// embedded, and never a word that a label must not say.
#include <dlfcn.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <iostream>

#include "loadlight/render/part.h"
#include "loadlight/render/render.h"
#include "render/printed_sheet.h"

using namespace loadlight;
using tests::Length;
using tests::ShelfLife;

namespace {

const std::string kPrinter = LOADLIGHT_PRINT_SAMPLE_LABELS;

std::string printed_by_program(const tests::WorkFolder& folder, const std::string& environment,
                               const std::string& arguments) {
  const std::string file = folder.path("program.pdf");
  const auto space = arguments.find(' ');
  tests::run_or_throw("env " + environment + " " + kPrinter + " " + arguments.substr(0, space) + " " +
                      arguments.substr(space + 1, 3) + " " + file + arguments.substr(space + 4));
  return tests::file_text(file);
}

bool contains_any_case(std::string text, const std::string& word) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
  return text.find(word) != std::string::npos;
}

// Every template's PDF in one folder, by name.
std::vector<std::pair<std::string, std::string>> all_sheets(ShelfLife shelf_life) {
  std::vector<std::pair<std::string, std::string>> sheets;
  for (const std::string& name : tests::template_names()) {
    sheets.emplace_back(name, tests::print_sheet(name, 300, Length::Usual, shelf_life).pdf);
  }
  return sheets;
}

}  // namespace

TEST_CASE("Two runs and three locales print the same bytes") {
  const tests::WorkFolder folder;
  for (const std::string arguments : {"a4-24 300", "wrap-100x50 300 event", "letter-3x10 203 scripts"}) {
    CAPTURE(arguments);
    const std::string first = printed_by_program(folder, "LC_ALL=C LANG=C", arguments);
    CHECK(first.size() > 10000);
    CHECK(printed_by_program(folder, "LC_ALL=C LANG=C", arguments) == first);
    CHECK(printed_by_program(folder, "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8", arguments) == first);
    CHECK(printed_by_program(folder, "LC_ALL=ja_JP.UTF-8 LANG=ja_JP.UTF-8", arguments) == first);
  }
}

TEST_CASE("One press prints the same pages to the same bytes again") {
  const auto sheet = tests::print_sheet("a4-24", 300);
  const auto press = render::make_press();
  const auto made = core::instant_from(tests::kPrintedAt);
  const auto first = press->print(sheet.laid_out.pages, made);
  const auto second = press->print(sheet.laid_out.pages, made);
  REQUIRE(first);
  REQUIRE(second);
  CHECK(*first == sheet.pdf);
  CHECK(*second == sheet.pdf);
  const auto later = press->print(sheet.laid_out.pages, made + std::chrono::seconds{1});
  CHECK(*later != sheet.pdf);
}

TEST_CASE("A reprint by the recorded forms gives the first print's bytes") {
  const auto gauge = render::make_text_gauge();
  const auto encoder = render::make_symbol_encoder();
  for (const std::string& name : tests::template_names()) {
    CAPTURE(name);
    auto sheet = tests::print_sheet(name, 300);
    for (std::size_t i = 0; i < sheet.labels.size(); ++i) {
      sheet.labels[i].form = sheet.laid_out.labels[i].form;
      sheet.labels[i].chart_form = sheet.laid_out.labels[i].chart_form;
    }
    const auto again = label::lay_out(sheet.made, sheet.labels, {}, tests::english(), *gauge, *encoder);
    REQUIRE(again);
    const auto pdf = render::make_press()->print(again->pages, core::instant_from(tests::kPrintedAt));
    REQUIRE(pdf);
    CHECK(*pdf == sheet.pdf);
  }
}

TEST_CASE("qpdf finds nothing to complain of, and every font is embedded") {
  const tests::WorkFolder folder;
  for (const auto& [name, pdf] : all_sheets(ShelfLife::UseBy)) {
    CAPTURE(name);
    const std::string file = folder.write(name + ".pdf", pdf);
    const auto checked = tests::run("qpdf --check " + file + " 2>&1");
    CHECK(checked.status == 0);
    const auto fonts = tests::lines_of(tests::run_or_throw("pdffonts " + file));
    REQUIRE(fonts.size() > 2);
    // Columns from the right: object (two words), uni, sub, emb.
    for (std::size_t i = 2; i < fonts.size(); ++i) {
      CAPTURE(fonts[i]);
      CHECK(fonts[i].find(" yes yes yes ") != std::string::npos);
    }
  }
}

TEST_CASE("No label says that it is sterile or has passed") {
  const tests::WorkFolder folder;
  for (ShelfLife shelf_life : {ShelfLife::UseBy, ShelfLife::EventRelated}) {
    for (const auto& [name, pdf] : all_sheets(shelf_life)) {
      const std::string text = tests::run_or_throw("pdftotext " + folder.write("labels.pdf", pdf) + " -");
      CAPTURE(name, text);
      CHECK(text.size() > 100);
      std::string rest = text;
      for (auto at = rest.find("Sterilizer"); at != std::string::npos; at = rest.find("Sterilizer")) {
        rest.erase(at, 10);  // the machine's name
      }
      CHECK_FALSE(contains_any_case(rest, "steril"));
      CHECK_FALSE(contains_any_case(rest, "pass"));
    }
  }
}

TEST_CASE("The PDF's text is what the labels say") {
  const tests::WorkFolder folder;
  for (ShelfLife shelf_life : {ShelfLife::UseBy, ShelfLife::EventRelated}) {
    const auto sheet = tests::print_sheet("roll-57x32", 300, Length::Usual, shelf_life);
    const std::string text = tests::run_or_throw("pdftotext " + folder.write("labels.pdf", sheet.pdf) + " -");
    for (const auto field : {label::Field::Contents, label::Field::Operator, label::Field::Sterilizer,
                             label::Field::Load, label::Field::ProcessDate, label::Field::Package}) {
      CHECK(text.find(sheet.labels[0].values.at(field)) != std::string::npos);
    }
    const bool dated = shelf_life == ShelfLife::UseBy;
    CHECK((text.find("2027-05-25") != std::string::npos) == dated);
    CHECK((text.find("torn") != std::string::npos) == !dated);
  }
}

TEST_CASE("Pages of different sizes keep them, and no pages are refused") {
  const tests::WorkFolder folder;
  const auto press = render::make_press();
  const auto pdf = press->print({{57, 32, {}}, {210, 297, {}}}, core::instant_from(0));
  REQUIRE(pdf);
  const std::string info = tests::run_or_throw("pdfinfo -l 2 " + folder.write("pages.pdf", *pdf));
  CHECK(info.find("161.575") != std::string::npos);
  CHECK(info.find("595.276 x 841.89") != std::string::npos);
  CHECK(press->print({}, core::instant_from(0)).failure().code == core::FailureCode::BadValue);
}

TEST_CASE("A test page is printed for every template") {
  const tests::WorkFolder folder;
  const auto gauge = render::make_text_gauge();
  for (const std::string& name : tests::template_names()) {
    CAPTURE(name);
    const auto page =
        label::lay_out_test_page(tests::read_template(name), 0.5, -0.5, tests::english(), *gauge);
    REQUIRE(page);
    const auto pdf = render::make_press()->print({*page}, core::instant_from(0));
    REQUIRE(pdf);
    const std::string file = folder.write("test-page.pdf", *pdf);
    CHECK(tests::run("qpdf --check " + file).status == 0);
    const std::string cross = std::min(page->width, page->height) < 60 ? "10, 10" : "20, 20";
    CHECK(tests::run_or_throw("pdftotext " + file + " -").find(cross) != std::string::npos);
  }
}

TEST_CASE("The part loaded at run time prints what the linked library prints") {
  void* part = dlopen(LOADLIGHT_RENDER_PART, RTLD_NOW | RTLD_LOCAL);  // never closed: see part.h
  REQUIRE(part != nullptr);
  const auto entry = reinterpret_cast<render::RenderPartEntry>(dlsym(part, render::kRenderPartEntry));
  REQUIRE(entry != nullptr);
  const auto sheet = tests::print_sheet("roll-57x32", 300);
  const auto gauge = entry()->make_text_gauge();
  const auto encoder = entry()->make_symbol_encoder();
  const auto again = label::lay_out(sheet.made, sheet.labels, {}, tests::english(), *gauge, *encoder);
  REQUIRE(again);
  const auto pdf = entry()->make_press()->print(again->pages, core::instant_from(tests::kPrintedAt));
  REQUIRE(pdf);
  CHECK(*pdf == sheet.pdf);
}

TEST_CASE("A sheet of 24 is laid out and written well within a second") {
  tests::print_sheet("a4-24", 300);  // fonts are found once a process
  std::vector<double> times;
  for (int round = 0; round < 9; ++round) {
    const auto start = std::chrono::steady_clock::now();
    tests::print_sheet("a4-24", 300);
    times.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  std::sort(times.begin(), times.end());
  std::cout << "a sheet of 24 laid out and written: median of " << times.size() << " "
            << times[times.size() / 2] << " ms, fastest " << times.front() << " ms\n";
  CHECK(times.front() < 1000);
}
