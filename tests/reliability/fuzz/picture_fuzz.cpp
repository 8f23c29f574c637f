// A picture file, as `read` is given one. Pictures over 90,000 pixels are decoded no further than their size, so that
// inputs stay many.
//
// Promises: a picture that is decoded has the size its header says, or that size turned; a refusal tells its problem;
// what is read in it is UTF-8 at places that are numbers.
#include <algorithm>
#include <cmath>

#include "fuzz_input.h"
#include "loadlight/vision/readers.h"
#include "vision/picture_decoder.h"
#include "vision/picture_header.h"
#include "vision/valid_utf8.h"

namespace loadlight::fuzz {
namespace {

constexpr std::uint64_t kMostPixels = 90'000;
constexpr int kTiny = 2'500;  // pixels: here everything is tried

void must_hold(const core::Failure& failure) {
  const bool told = failure.code == core::FailureCode::ImageUnreadable
                        ? failure.details.size() == 1 && failure.details[0].first == "problem"
                        : failure.code == core::FailureCode::ImageTooLarge && failure.details.size() == 3;
  promise(told, "a refusal tells its problem");
}

void read(const port::GrayPicture& picture) {
  static const auto reader = vision::make_symbol_reader();
  const bool is_tiny = picture.width * picture.height <= kTiny;
  const port::ReadBudget budget{std::chrono::seconds{1}, is_tiny ? port::Effort::Full : port::Effort::Quick, 1};
  const port::Look look = reader->look(picture.view(), budget);
  for (const port::SymbolSighting& symbol : look.read) {
    promise(vision::valid_utf8(symbol.text) == symbol.text && !symbol.text.empty(), "a text is UTF-8");
    promise(std::all_of(symbol.corners.begin(), symbol.corners.end(),
                        [](const port::PixelPoint& at) { return std::isfinite(at.x) && std::isfinite(at.y); }),
            "corners are numbers");
  }
}

void decode(std::span<const std::uint8_t> bytes) {
  const auto header = vision::read_header(bytes);
  if (!header) return must_hold(header.failure());
  const bool is_small = header->width <= kMostPixels && header->height <= kMostPixels &&
                        header->width * header->height <= kMostPixels;
  const bool is_refused = header->width * header->height > port::kMostPicturePixels;
  if (!is_small && !is_refused) return;
  const auto picture = vision::decode_picture(bytes);
  if (!picture) return must_hold(picture.failure());
  promise(picture->width > 0 && picture->height > 0, "a picture has a size");
  promise(picture->pixels.size() == static_cast<std::size_t>(picture->width) * static_cast<std::size_t>(picture->height),
          "a picture has all its pixels");
  if (static_cast<std::uint64_t>(picture->width) * static_cast<std::uint64_t>(picture->height) <= kMostPixels) read(*picture);
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loadlight::fuzz::decode({data, size});
  return 0;
}
