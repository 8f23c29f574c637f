#pragma once

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// Reads in stages, cheapest first; a stage runs only for what the ones before it left open:
//   whole            the whole picture, just as it is
//   places           cut out one by one, where three finders stand that belong to no symbol read so far
//   crowd            tiles, where many symbols were read and such finders are still left
//   rendered places  the same enlarged, sharpened, ... for the likeliest places left
//   renderings       of the whole picture, when nothing at all was read
class CascadeReader final : public port::SymbolReader {
 public:
  port::Look look(port::GrayView picture, const port::ReadBudget& budget) const override;
  port::Look look(std::span<const port::GrayView> shots, const port::ReadBudget& budget) const override;
  std::optional<port::SymbolMatch> match(port::GrayView picture, const port::Corners& place,
                                         std::span<const core::SymbolGrid> candidates) const override;
  std::optional<core::PrintMeasures> measure(port::GrayView picture,
                                             const port::SymbolSighting& symbol) const override;
  std::unique_ptr<port::Sweep> begin_sweep(const port::SweepOptions& options) const override;
};

}  // namespace loadlight::vision
