#include "vision/picture_header.h"

#include <algorithm>
#include <array>
#include <string>

#include "vision/byte_view.h"
#include "vision/picture_formats.h"

namespace loadlight::vision {
namespace {

struct Format final {
  bool (*is)(const ByteView& bytes);
  PictureHeader (*header)(const ByteView& bytes);
};
constexpr std::array<Format, 6> kReadable{{
    {&is_png, &png_header},
    {&is_jpeg, &jpeg_header},
    {&is_webp, &webp_header},
    {&is_tiff, &tiff_header},
    {&is_bmp, &bmp_header},
    {&is_pnm, &pnm_header},
}};

// Readers of PDF files look for the mark in the first kilobyte (ISO 32000-1, annex H.3, note 13; MEMORY).
bool is_pdf(const ByteView& bytes) {
  for (std::uint64_t at = 0; at < std::min<std::uint64_t>(bytes.size(), 1024); ++at) {
    if (bytes.says(at, "%PDF-")) return true;
  }
  return false;
}

bool is_heic(const ByteView& bytes) {
  constexpr std::array<std::string_view, 5> kBrands{"heic", "heix", "mif1", "msf1", "avif"};
  return bytes.says(4, "ftyp") && std::any_of(kBrands.begin(), kBrands.end(),
                                              [&](std::string_view brand) { return bytes.says(8, brand); });
}

bool is_gif(const ByteView& bytes) {
  return bytes.says(0, "GIF8");
}

std::string_view problem_of(const ByteView& bytes) {
  if (bytes.size() == 0) return "empty";
  if (is_heic(bytes)) return "heic";
  if (is_gif(bytes)) return "gif";
  return is_pdf(bytes) ? "pdf" : "unknown-format";
}

}  // namespace

core::Failure unreadable_picture(std::string_view problem) {
  return {core::FailureCode::ImageUnreadable, {{"problem", std::string(problem)}}, {}};
}

core::Result<PictureHeader> read_header(std::span<const std::uint8_t> bytes) {
  const ByteView view(bytes);
  const auto format =
      std::find_if(kReadable.begin(), kReadable.end(), [&](const Format& f) { return f.is(view); });
  if (format == kReadable.end()) return unreadable_picture(problem_of(view));
  const auto header = format->header(view);
  if (!header.whole) return unreadable_picture("truncated");
  if (header.width == 0 || header.height == 0) return unreadable_picture("damaged");
  return header;
}

}  // namespace loadlight::vision
