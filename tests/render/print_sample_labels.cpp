// print_sample_labels TEMPLATE DPI OUT.pdf [longest] [event] [scripts]: a sheet of invented labels, their
// contents named in several scripts if asked; "test-page" instead of DPI prints the template's test page.
// Exits with 1 and a line on standard error on failure.
#include <array>
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

constexpr std::array<const char*, 6> kNames{"Набор гигиены", "طقم النظافة",  "स्वच्छता सेट",
                                            "衛生器具",      "Σετ υγιεινής", "ערכת היגיינה"};

struct Wish final {
  tests::Length length = tests::Length::Usual;
  tests::ShelfLife shelf_life = tests::ShelfLife::UseBy;
  bool scripts = false;
};

Wish wish_of(int argc, char** argv) {
  Wish wish;
  for (int i = 4; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "longest") wish.length = tests::Length::Longest;
    if (word == "event") wish.shelf_life = tests::ShelfLife::EventRelated;
    if (word == "scripts") wish.scripts = true;
  }
  return wish;
}

std::vector<label::Page> pages_of(const std::string& name, int dpi, const Wish& wish) {
  const auto made = tests::read_template(name);
  const auto gauge = render::make_text_gauge();
  if (dpi == 0) return {value_or_exit(label::lay_out_test_page(made, 0, 0, tests::english(), *gauge))};
  const auto encoder = render::make_symbol_encoder();
  auto labels = tests::sample_labels(made.subject, made.grid.cells(), wish.length, wish.shelf_life);
  for (std::size_t i = 0; wish.scripts && i < labels.size(); ++i) {
    labels[i].values[label::Field::Contents] = kNames[i % kNames.size()];
  }
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
  const auto pages = pages_of(argv[1], std::atoi(argv[2]), wish_of(argc, argv));
  const auto made = core::instant_from(1795615200000);  // 2026-11-25T14:00:00Z
  const std::string pdf = value_or_exit(render::make_press()->print(pages, made));
  std::ofstream{argv[3], std::ios::binary} << pdf;
  return 0;
}
