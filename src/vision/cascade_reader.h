#pragma once

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// How a picture is read: picture_reading.h; several shots of one scene: burst_reading.h; frames of a sweep:
// label_sweep.h.
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
