#include "render/printed_sheet.h"

#include <sstream>
#include <stdexcept>

#include "loadlight/render/render.h"

namespace loadlight::tests {
namespace {

template <class T>
T value_or_throw(core::Result<T> result, const std::string& what) {
  if (result) return *std::move(result);
  std::string text = what + ": " + std::string{core::to_text(result.failure().code)};
  for (const auto& [key, value] : result.failure().details) text += " " + key + "=" + value;
  throw std::runtime_error(text);
}

}  // namespace

PrintedSheet print_sheet(const std::string& template_name, int dpi, Length length, ShelfLife shelf_life) {
  PrintedSheet sheet;
  sheet.made = read_template(template_name);
  const int cells = sheet.made.grid.cells();
  sheet.labels = sample_labels(sheet.made.subject, cells > 1 ? cells : 3, length, shelf_life);
  label::LayoutOptions options;
  options.dpi = dpi;
  const auto gauge = render::make_text_gauge();
  const auto encoder = render::make_symbol_encoder();
  sheet.laid_out = value_or_throw(
      label::lay_out(sheet.made, sheet.labels, options, english(), *gauge, *encoder), template_name);
  sheet.pdf = value_or_throw(
      render::make_press()->print(sheet.laid_out.pages, core::instant_from(kPrintedAt)), template_name);
  return sheet;
}

Raster rasterise(const WorkFolder& folder, const std::string& pdf_file, int page, int dpi) {
  const std::string number = std::to_string(page + 1);
  const std::string root = folder.path("page");
  run_or_throw("pdftoppm -gray -singlefile -r " + std::to_string(dpi) + " -f " + number + " -l " + number +
               " " + pdf_file + " " + root);
  return raster_of(file_text(root + ".pgm"));
}

std::string pgm_of(const Raster& raster) {
  std::string bytes = "P5\n" + std::to_string(raster.width) + " " + std::to_string(raster.height) + "\n255\n";
  bytes.append(raster.pixels.begin(), raster.pixels.end());
  return bytes;
}

Raster raster_of(const std::string& pgm) {
  std::istringstream stream{pgm};
  std::string magic;
  int largest = 0;
  Raster raster;
  stream >> magic >> raster.width >> raster.height >> largest;
  stream.get();
  if (magic != "P5" || largest != 255) throw std::runtime_error("not a PGM picture");
  raster.pixels.resize(static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.height));
  stream.read(reinterpret_cast<char*>(raster.pixels.data()),
              static_cast<std::streamsize>(raster.pixels.size()));
  if (!stream) throw std::runtime_error("a PGM picture ends early");
  return raster;
}

Raster part_of(const Raster& raster, int x, int y, int width, int height) {
  Raster part{width, height, {}};
  for (int row = y; row < y + height; ++row) {
    for (int column = x; column < x + width; ++column) {
      const bool inside = column >= 0 && row >= 0 && column < raster.width && row < raster.height;
      part.pixels.push_back(inside ? raster.at(column, row) : 0);
    }
  }
  return part;
}

}  // namespace loadlight::tests
