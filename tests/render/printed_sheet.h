// Labels printed to a PDF and turned into a picture, as the tests of render look at them.
#pragma once

#include <string>
#include <vector>

#include "loadlight/label/layout.h"
#include "render/outside_tool.h"
#include "render/sample_labels.h"

namespace loadlight::tests {

// A page as grey levels, 0 black to 255 white.
struct Raster final {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> pixels;

  std::uint8_t at(int x, int y) const {
    return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)];
  }
};

struct PrintedSheet final {
  label::LabelTemplate made;
  std::vector<label::LabelContent> labels;
  label::LaidOut laid_out;
  std::string pdf;  // bytes
};

inline constexpr std::int64_t kPrintedAt = 1795615200000;  // 2026-11-25T14:00:00Z

// A sheet full of sample labels (three for a roll); throws std::runtime_error where layout fails.
PrintedSheet print_sheet(const std::string& template_name, int dpi, Length length = Length::Usual,
                         ShelfLife shelf_life = ShelfLife::UseBy);

// Page `page` (from 0) of a PDF file by poppler at `dpi` dots an inch.
Raster rasterise(const WorkFolder& folder, const std::string& pdf_file, int page, int dpi);

// A binary PGM file's bytes and back.
std::string pgm_of(const Raster& raster);
Raster raster_of(const std::string& pgm);

// The part of `raster` from (x, y); what lies outside it is black.
Raster part_of(const Raster& raster, int x, int y, int width, int height);

}  // namespace loadlight::tests
