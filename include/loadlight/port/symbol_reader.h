// Port: finds and decodes QR symbols in pictures. Implemented by vision.
#pragma once

#include <chrono>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loadlight/core/print_grade.h"
#include "loadlight/core/symbol.h"
#include "loadlight/port/picture.h"
#include "loadlight/port/sweep.h"

namespace loadlight::port {

// A symbol that was decoded.
struct SymbolSighting final {
  std::string text;  // UTF-8
  Corners corners{};
};

// What was read, and what looks like a symbol but could not be.
struct Look final {
  std::vector<SymbolSighting> read;  // each once, top to bottom and left to right
  std::vector<Corners> unread;
};

// Which of some known symbols a place shows, though it cannot be decoded. Base-10 logarithms of likelihood
// ratios: against the best of the others (infinite if there is none), and against a symbol of the same form
// that is none of them.
struct SymbolMatch final {
  std::size_t candidate = 0;  // index
  double over_second = 0;
  double over_chance = 0;
  Corners corners{};
};

class SymbolReader {
 public:
  virtual ~SymbolReader() = default;

  // Every QR symbol in the picture, however many. Finding none is an empty list, not a failure. Once the
  // budget is spent no further place is tried; what was read stands. Thread-safe, as all here.
  virtual Look look(GrayView picture, const ReadBudget& budget) const = 0;

  // What `look` reads with the usual budget.
  std::vector<SymbolSighting> read(GrayView picture) const { return look(picture, {}).read; }

  // Several shots of one scene, read together: what no single shot shows is put together from all of them.
  // Corners are those in the first shot (0 to shots - 1) in which the symbol has a place; `look` lists them as
  // of that shot.
  virtual Look look(std::span<const GrayView> shots, const ReadBudget& budget) const = 0;

  // The candidate that the symbol at the place is, whatever the ratios; nothing if no grid could be laid over
  // the place or none of the candidates has its size. What ratio is enough: core/audit.h.
  virtual std::optional<SymbolMatch> match(GrayView picture, const Corners& place,
                                           std::span<const core::SymbolGrid> candidates) const = 0;

  // How well a symbol that was read is printed, as far as a photograph or scan tells; nothing if it cannot
  // be measured.
  virtual std::optional<core::PrintMeasures> measure(GrayView picture,
                                                     const SymbolSighting& symbol) const = 0;

  // A reader for frames that follow one another.
  virtual std::unique_ptr<Sweep> begin_sweep(const SweepOptions& options) const = 0;
};

}  // namespace loadlight::port
