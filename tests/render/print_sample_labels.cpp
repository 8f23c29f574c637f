// print_sample_labels TEMPLATE DPI OUT.pdf [longest] [event]: a sheet of invented labels; "test-page"
// instead of DPI prints the template's test page. Exits with 1 and a line on standard error on failure.
#include <chrono>
#include <clocale>
#include <cstdlib>
#include <fstream>
#include <iostream>

#include "loadlight/render/render.h"
#include "render/sample_labels.h"

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

std::vector<label::Page> pages_of(const std::string& name, int dpi, tests::Length length,
                                  tests::ShelfLife shelf_life) {
  const auto made = tests::read_template(name);
  const auto gauge = render::make_text_gauge();
  if (dpi == 0) return {value_or_exit(label::lay_out_test_page(made, 0, 0, tests::english(), *gauge))};
  const auto encoder = render::make_symbol_encoder();
  const auto labels = tests::sample_labels(made.subject, made.grid.cells(), length, shelf_life);
  label::LayoutOptions options;
  options.dpi = dpi;
  auto laid_out = value_or_exit(label::lay_out(made, labels, options, tests::english(), *gauge, *encoder));
  for (const auto& warning : laid_out.warnings) {
    std::cerr << "warning: " << *tests::english()("label.warning." + warning.code, warning.details) << "\n";
  }
  return std::move(laid_out.pages);
}

}  // namespace

int main(int argc, char** argv) {
  std::setlocale(LC_ALL, "");
  if (argc < 4) return 2;
  bool longest = false;
  bool event = false;
  for (int i = 4; i < argc; ++i) {
    longest = longest || std::string{argv[i]} == "longest";
    event = event || std::string{argv[i]} == "event";
  }
  const auto pages = pages_of(argv[1], std::atoi(argv[2]), longest ? tests::Length::Longest : tests::Length::Usual,
                              event ? tests::ShelfLife::EventRelated : tests::ShelfLife::UseBy);
  const auto made = core::instant_from(1795615200000);  // 2026-11-25T14:00:00Z
  const std::string pdf = value_or_exit(render::make_press()->print(pages, made));
  std::ofstream{argv[3], std::ios::binary} << pdf;
  return 0;
}
