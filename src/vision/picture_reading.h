// Everything that is tried on one picture to read its symbols.
#pragma once

#include <chrono>
#include <functional>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "loadlight/port/symbol_reader.h"
#include "vision/finder_spots.h"
#include "vision/sightings.h"
#include "vision/tiles.h"

namespace loadlight::vision {

// Stages, cheapest first; each looks only at what those before it left open:
//   places           cut out one by one, where three finders stand
//   looking again    when nothing at all was read: where the texture is a symbol's, enlarged; then for finders in
//                    renderings of the picture
//   whole            the picture as it is, where the places do not account for every finder: around one or two
//                    of them, or all of it
//   sharpened crowd  the places left where many symbols were read
//   grids            our own grid laid over the places left: curl, wrinkles, glare, cover
//   pairs            the same where two finders of a crowd may be one symbol's
//   textures         grids where the texture alone is a symbol's, when nothing at all was read
//   tiles            around finders left over, where many symbols were read
//   rendered places  enlarged, sharpened, ... for the likeliest places left
// and when nothing at all was read:
//   hidden places    grids over finders that only renderings showed
//   renderings       of the whole picture
// Not thread-safe; works on several threads within. Throws what OpenCV throws: what was read before stands.
class PictureReading final {
 public:
  PictureReading(port::GrayView picture, const port::ReadBudget& budget);

  void run();
  port::Look result() const;
  // Where a symbol may lie that was not read: with three finders first, then with fewer; at most `most`.
  std::vector<port::Corners> places_left(std::size_t most) const;

 private:
  // Places looked at, as they are, and over which grids of our own are laid.
  static constexpr std::size_t kMostPlaces = 300;
  static constexpr std::size_t kFewGrids = 8;
  // As many symbols make a crowd: a pass that meets more than about 16 starves, and false finders count too.
  static constexpr std::size_t kCrowd = 6;

  bool has_time() const;
  bool is_small() const;
  bool is_thorough() const;
  bool is_explained() const;
  void in_batches(std::vector<port::Corners> waiting,
                  const std::function<void(const std::vector<port::Corners>&)>& read);
  void read_places();
  std::size_t read_batch(const std::vector<Quadrilateral>& batch);
  void read_whole();
  void read_grids(const std::vector<FinderSpot>& spots, std::size_t most);
  void read_sharpened_crowd();
  void read_sharpened_places();
  void add_blurred_finders();
  void add_finder(const FinderSpot& spot);
  void read_pairs_in_crowd();
  void read_tripled(const Quadrilateral& place);
  void read_textures();
  void read_likely_texture();
  void read_blurred(const Quadrilateral& place);
  void read_sharpened(const Quadrilateral& place);
  void read_around_left();
  void read_grids_at(const std::vector<Quadrilateral>& places, const std::vector<FinderSpot>& spots);
  bool is_promising(const Quadrilateral& place) const;
  std::optional<port::SymbolSighting> read_grid_at(const Quadrilateral& place,
                                                   const std::vector<FinderSpot>& spots) const;
  void look_again();
  void read_rendered(const cv::Mat& rendered, double scale, const std::vector<Quadrilateral>& places);
  void read_tiles();
  void read_rendered_places();
  void read_renderings();
  void read_variants(port::GrayView view, const Origin& origin);
  std::vector<FinderSpot> visible_finders() const;
  void drop_read();

  port::GrayView picture_;
  port::ReadBudget budget_;
  std::chrono::steady_clock::time_point deadline_;
  Sightings sightings_;
  std::vector<FinderSpot> open_;    // finders that no symbol read so far accounts for
  std::vector<FinderSpot> hidden_;  // the same, that only renderings showed
};

}  // namespace loadlight::vision
