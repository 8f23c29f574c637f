#include "vision/cascade_reader.h"

#include <exception>

#include "vision/label_sweep.h"
#include "vision/picture_reading.h"

namespace loadlight::vision {

port::Look CascadeReader::look(port::GrayView picture, const port::ReadBudget& budget) const {
  if (picture.pixels == nullptr || picture.width < 1 || picture.height < 1) return {};
  PictureReading reading{picture, budget};
  try {
    reading.run();
  } catch (const std::exception&) {
    // Out of memory, say: what was read before still stands.
  }
  return reading.result();
}

port::Look CascadeReader::look(std::span<const port::GrayView> shots, const port::ReadBudget& budget) const {
  return shots.empty() ? port::Look{} : look(shots.front(), budget);
}

std::optional<port::SymbolMatch> CascadeReader::match(port::GrayView, const port::Corners&,
                                                      std::span<const core::SymbolGrid>) const {
  return std::nullopt;
}

std::optional<core::PrintMeasures> CascadeReader::measure(port::GrayView, const port::SymbolSighting&) const {
  return std::nullopt;
}

std::unique_ptr<port::Sweep> CascadeReader::begin_sweep(const port::SweepOptions& options) const {
  return make_label_sweep(*this, options);
}

}  // namespace loadlight::vision
