// Our symbols against Zint's, module by module, each one's mask taken off: the choice of a mask is free.
#include <catch2/catch.hpp>
#include <iostream>

#include "loadlight/render/render.h"
#include "render/printed_sheet.h"
#include "render/symbol_reading.h"
#include "render/zint_symbol.h"

using namespace loadlight;
using core::ErrorCorrection;

namespace {

struct Tally final {
  int symbols = 0;
  int modules = 0;
};

void compare(const tests::WorkFolder& folder, const std::string& text, const core::SymbolGrid& ours,
             Tally& tally) {
  CAPTURE(text, ours.form.version, static_cast<int>(ours.form.level));
  const auto theirs = tests::zint_symbol(folder, text, ours.form.version, ours.form.level);
  REQUIRE(theirs.modules.size() == ours.modules.size());
  CHECK(tests::unmasked_data(ours, ours.form.mask) == tests::unmasked_data(theirs, tests::mask_of(theirs)));
  CHECK(tests::fixed_patterns(ours) == tests::fixed_patterns(theirs));
  ++tally.symbols;
  tally.modules += static_cast<int>(ours.modules.size());
}

// Whatever the template shows of a label, in the order in which it is drawn.
std::vector<std::string> payloads_of(const tests::PrintedSheet& sheet) {
  std::vector<std::string> payloads;
  for (std::size_t i = 0; i < sheet.labels.size(); ++i) {
    if (sheet.laid_out.labels[i].form) payloads.push_back(sheet.labels[i].payload);
    if (sheet.laid_out.labels[i].chart_form) payloads.push_back(sheet.labels[i].chart_payload);
  }
  return payloads;
}

}  // namespace

TEST_CASE("At every version and level, full and less than full, the modules equal Zint's") {
  const tests::WorkFolder folder;
  const auto encoder = render::make_symbol_encoder();
  Tally tally;
  for (int version = 1; version <= 10; ++version) {
    for (ErrorCorrection level : tests::kLevels) {
      const int capacity = tests::published_capacity(version, level);
      for (int length : {capacity, capacity - 3}) {
        const std::string text = tests::alphanumeric_sample(length);
        const auto ours = encoder->encode(text, version, level, std::nullopt);
        REQUIRE(ours);
        compare(folder, text, *ours, tally);
      }
    }
  }
  std::cout << "compared with Zint: " << tally.symbols << " symbols, " << tally.modules << " modules\n";
  REQUIRE(tally.symbols > 0);
}

TEST_CASE("The symbols of every template's labels equal Zint's") {
  const tests::WorkFolder folder;
  Tally tally;
  for (const std::string& name : tests::template_names()) {
    for (auto length : {tests::Length::Usual, tests::Length::Longest}) {
      const auto sheet = tests::print_sheet(name, 300, length);
      const auto payloads = payloads_of(sheet);
      std::size_t next = 0;
      for (const auto& page : sheet.laid_out.pages) {
        for (const auto& item : page.items) {
          if (const auto* symbol = std::get_if<label::DrawnSymbol>(&item)) {
            compare(folder, payloads.at(next++), symbol->grid, tally);
          }
        }
      }
      CHECK(next == payloads.size());
    }
  }
  std::cout << "printed symbols compared with Zint: " << tally.symbols << ", " << tally.modules
            << " modules\n";
  REQUIRE(tally.symbols > 0);
}
