// Every label of every template, printed, turned into a picture by poppler and read by two readers that
// are not ours.
#define ZX_USE_UTF8 1
#include <ZXing/ReadBarcode.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>

#include "render/printed_sheet.h"

using namespace loadlight;
using label::DrawnSymbol;
using tests::Raster;

namespace {

// A symbol on a page's raster: where it should be, in pixels, and what it says.
struct Expected final {
  std::string text;
  DrawnSymbol drawn;
  double pixels_per_dot = 1;

  double module() const { return drawn.module_dots * pixels_per_dot; }
  double left() const { return drawn.x_dots * pixels_per_dot; }
  double top() const { return drawn.y_dots * pixels_per_dot; }
  double side() const { return drawn.grid.form.side() * module(); }
};

// The symbols of a page in the order in which they were laid out: a label's own, then its chart copy.
std::vector<Expected> symbols_of(const tests::PrintedSheet& sheet, int page, int dpi) {
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < sheet.labels.size(); ++i) {
    if (sheet.laid_out.labels[i].page != page) continue;
    if (sheet.laid_out.labels[i].form) texts.push_back(sheet.labels[i].payload);
    if (sheet.laid_out.labels[i].chart_form) texts.push_back(sheet.labels[i].chart_payload);
  }
  std::vector<Expected> symbols;
  for (const auto& item : sheet.laid_out.pages[static_cast<std::size_t>(page)].items) {
    const auto* drawn = std::get_if<DrawnSymbol>(&item);
    if (!drawn) continue;
    REQUIRE(symbols.size() < texts.size());
    symbols.push_back({texts[symbols.size()], *drawn, static_cast<double>(dpi) / drawn->dpi});
  }
  REQUIRE(symbols.size() == texts.size());
  return symbols;
}

constexpr int kMargin = 5;  // modules around a symbol that its picture shows

// A symbol's own picture: its quiet zone and a little more, as a reader would be pointed at it. Beyond
// the page it is black, so that a symbol too near the edge shows.
Raster around(const Raster& page, const Expected& symbol) {
  const double margin = kMargin * symbol.module();
  const auto x = static_cast<int>(std::lround(symbol.left() - margin));
  const auto y = static_cast<int>(std::lround(symbol.top() - margin));
  const auto size = static_cast<int>(std::lround(symbol.side() + 2 * margin));
  return tests::part_of(page, x, y, size, size);
}

std::string read_by_zxing(const Raster& picture) {
  ZXing::DecodeHints hints;
  hints.setFormats(ZXing::BarcodeFormat::QRCode);
  const auto result = ZXing::ReadBarcode(
      {picture.pixels.data(), picture.width, picture.height, ZXing::ImageFormat::Lum}, hints);
  return result.text();
}

std::vector<std::string> read_by_zbar(const tests::WorkFolder& folder, const std::vector<Raster>& pictures) {
  std::string command = "zbarimg --quiet --raw -Sdisable -Sqrcode.enable";
  for (std::size_t i = 0; i < pictures.size(); ++i) {
    command += " " + folder.write("symbol" + std::to_string(i) + ".pgm", tests::pgm_of(pictures[i]));
  }
  return tests::lines_of(tests::run_or_throw(command + " 2>/dev/null"));
}

bool dark(std::uint8_t level) {
  return level < 128;
}

// Clear width on the left of a symbol's picture, in modules: from the symbol to the nearest dark pixel in
// any of its rows, at most kMargin. `shared` pixels next to the symbol may be half its own.
double clear_to_the_left(const Raster& picture, double module, int shared) {
  const auto edge = static_cast<int>(std::lround(kMargin * module));
  int nearest = -1;
  for (int y = edge; y < picture.height - edge; ++y) {
    for (int x = edge - 1 - shared; x > nearest; --x) {
      if (dark(picture.at(x, y))) nearest = x;
    }
  }
  return (edge - 1 - nearest) / module;
}

// A quarter turn to the right: what was below comes to the left.
Raster turned(const Raster& picture) {
  Raster made{picture.height, picture.width, {}};
  for (int y = 0; y < picture.width; ++y) {
    for (int x = 0; x < picture.height; ++x) made.pixels.push_back(picture.at(y, picture.height - 1 - x));
  }
  return made;
}

double narrowest_quiet_zone(Raster picture, double module, int shared) {
  double narrowest = kMargin;
  for (int turn = 0; turn < 4; ++turn) {
    narrowest = std::min(narrowest, clear_to_the_left(picture, module, shared));
    picture = turned(picture);
  }
  return narrowest;
}

// Modules whose middle has the wrong shade.
int wrong_modules(const Raster& page, const Expected& symbol) {
  int wrong = 0;
  const int side = symbol.drawn.grid.form.side();
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) {
      const auto at_x = static_cast<int>(symbol.left() + (x + 0.5) * symbol.module());
      const auto at_y = static_cast<int>(symbol.top() + (y + 0.5) * symbol.module());
      wrong += dark(page.at(at_x, at_y)) != symbol.drawn.grid.dark(x, y) ? 1 : 0;
    }
  }
  return wrong;
}

// Dots that are not wholly black or white as they should be; for a page at its own dots an inch.
int impure_dots(const Raster& page, const Expected& symbol) {
  int impure = 0;
  const int side = symbol.drawn.grid.form.side();
  const int dots = symbol.drawn.module_dots;
  for (int y = 0; y < side * dots; ++y) {
    for (int x = 0; x < side * dots; ++x) {
      const std::uint8_t level = page.at(symbol.drawn.x_dots + x, symbol.drawn.y_dots + y);
      const bool should = symbol.drawn.grid.dark(x / dots, y / dots);
      impure += level != (should ? 0 : 255) ? 1 : 0;
    }
  }
  return impure;
}

struct Tally final {
  int symbols = 0;
  double narrowest = 1000;
  int impure = 0;
};

void check_page(const tests::WorkFolder& folder, const tests::PrintedSheet& sheet,
                const std::string& pdf_file, int page, int dpi, Tally& tally) {
  const Raster raster = tests::rasterise(folder, pdf_file, page, dpi);
  const auto symbols = symbols_of(sheet, page, dpi);
  if (symbols.empty()) return;
  std::vector<Raster> pictures;
  std::vector<std::string> texts;
  for (const Expected& symbol : symbols) {
    pictures.push_back(around(raster, symbol));
    texts.push_back(symbol.text);
    CHECK(wrong_modules(raster, symbol) == 0);
    CHECK(read_by_zxing(pictures.back()) == symbol.text);
    const bool own_dots = symbol.drawn.dpi == dpi;
    const double quiet = narrowest_quiet_zone(pictures.back(), symbol.module(), own_dots ? 0 : 1);
    // At other dots an inch a pixel and a half may be lost to rounding.
    CHECK(quiet >= (own_dots ? 4.0 : 4.0 - 1.5 / symbol.module()));
    tally.narrowest = std::min(tally.narrowest, quiet);
    if (own_dots) tally.impure += impure_dots(raster, symbol);
    ++tally.symbols;
  }
  CHECK(read_by_zbar(folder, pictures) == texts);
}

void check_sheet(const std::string& name, int printed_dpi, int raster_dpi, tests::Length length,
                 Tally& tally) {
  CAPTURE(name, printed_dpi, raster_dpi);
  const tests::WorkFolder folder;
  const auto sheet = tests::print_sheet(name, printed_dpi, length);
  const std::string pdf_file = folder.write("labels.pdf", sheet.pdf);
  for (int page = 0; page < static_cast<int>(sheet.laid_out.pages.size()); ++page) {
    check_page(folder, sheet, pdf_file, page, raster_dpi, tally);
  }
}

}  // namespace

TEST_CASE("Every label of every template decodes at its printer's dots, whole dots, quiet zone clear") {
  const int dpi = GENERATE(203, 300, 600);
  Tally tally;
  for (const std::string& name : tests::template_names()) {
    check_sheet(name, dpi, dpi, tests::Length::Usual, tally);
    check_sheet(name, dpi, dpi, tests::Length::Longest, tally);
  }
  std::cout << "printed and read at " << dpi << " dpi: " << tally.symbols << " symbols, narrowest quiet zone "
            << tally.narrowest << " modules, impure dots " << tally.impure << "\n";
  CHECK(tally.impure == 0);
  REQUIRE(tally.symbols > 100);
}

TEST_CASE("Labels for a 300 dpi printer also decode on coarser and finer pictures") {
  const int dpi = GENERATE(203, 600);
  Tally tally;
  for (const std::string& name : tests::template_names()) {
    check_sheet(name, 300, dpi, tests::Length::Usual, tally);
  }
  REQUIRE(tally.symbols > 50);
}

TEST_CASE("Every template's symbols have sound modules at 203, 300 and 600 dpi, longest payload included") {
  for (const std::string& name : tests::template_names()) {
    for (int dpi : {203, 300, 600}) {
      CAPTURE(name, dpi);
      CHECK(tests::print_sheet(name, dpi, tests::Length::Longest).laid_out.warnings.empty());
    }
  }
}
