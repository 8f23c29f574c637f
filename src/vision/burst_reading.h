// Several shots of one scene read together: what no single shot shows whole is put together from all of them.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <vector>

#include "loadlight/port/symbol_reader.h"
#include "vision/seen_grid.h"
#include "vision/sightings.h"

namespace loadlight::vision {

// Each shot is read by itself first. Then grids are laid over what it left unread, those that lie at one place
// in several shots are added up module by module, and the sums decoded. Where nothing comes of that, each shot
// is read again with all there is. Not thread-safe; works on several threads within. Throws what OpenCV throws: what was read before stands.
class BurstReading final {
 public:
  BurstReading(std::span<const port::GrayView> shots, const port::ReadBudget& budget);

  void run();
  port::Look result() const;

 private:
  using Shot = std::size_t;  // index

  // A grid in the pixels of its shot.
  struct Laid final {
    Shot shot;
    SeenGrid grid;
    port::PixelPoint centre;
  };

  bool has_time() const;
  void read_alone();
  void lay_over_unread();
  void lay_where_others_are();
  void fuse_grids();
  void read_thoroughly();
  std::vector<const Laid*> companions(const Laid& first, Shot shot) const;
  bool fuse_around(const Laid& first);
  bool decode_sum(std::span<const Laid* const> grids);
  bool is_read_at(const Laid& laid) const;

  std::span<const port::GrayView> shots_;
  port::ReadBudget budget_;
  std::chrono::steady_clock::time_point deadline_;
  Sightings sightings_;  // corners in the shot in which the symbol was first placed
  std::vector<port::Corners> unread_;
  std::vector<std::vector<port::Corners>> places_;  // left unread, of each shot
  std::vector<Laid> laid_;
};

}  // namespace loadlight::vision
