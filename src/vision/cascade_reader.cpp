#include "vision/cascade_reader.h"

#include <algorithm>
#include <exception>
#include <iterator>
#include <vector>

#include "vision/burst_reading.h"
#include "vision/known_places.h"
#include "vision/label_sweep.h"
#include "vision/picture_reading.h"

namespace loadlight::vision {
namespace {

bool is_whole(const port::GrayView& picture) {
  return picture.pixels != nullptr && picture.width > 0 && picture.height > 0;
}

}  // namespace

port::Look CascadeReader::look(port::GrayView picture, const port::ReadBudget& budget) const {
  if (!is_whole(picture)) return {};
  PictureReading reading{picture, budget};
  try {
    reading.run();
  } catch (const std::exception&) {
    // Out of memory, say: what was read before still stands.
  }
  return reading.result();
}

port::Look CascadeReader::look(std::span<const port::GrayView> shots, const port::ReadBudget& budget) const {
  std::vector<port::GrayView> whole;
  std::copy_if(shots.begin(), shots.end(), std::back_inserter(whole), is_whole);
  BurstReading reading{whole, budget};
  try {
    reading.run();
  } catch (const std::exception&) {
  }
  return reading.result();
}

std::optional<port::SymbolMatch> CascadeReader::match(port::GrayView picture, const port::Corners& place,
                                                      std::span<const core::SymbolGrid> candidates) const {
  if (!is_whole(picture)) return std::nullopt;
  try {
    return match_place(picture, place, candidates);
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

std::optional<core::PrintMeasures> CascadeReader::measure(port::GrayView picture,
                                                          const port::SymbolSighting& symbol) const {
  if (!is_whole(picture)) return std::nullopt;
  try {
    return measure_symbol(picture, symbol);
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

std::unique_ptr<port::Sweep> CascadeReader::begin_sweep(const port::SweepOptions& options) const {
  return make_label_sweep(*this, options);
}

}  // namespace loadlight::vision
