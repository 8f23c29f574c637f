// Port: reads the frames of one sweep, label by label rather than frame by frame. Implemented by vision.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "loadlight/port/frame_source.h"

namespace loadlight::port {

// How far a reader goes for a symbol that does not yield at once.
enum class Effort {
  Quick,  // for frames of a stream, where the next frame is the second try
  Full,
};

// What reading one picture, burst or frame may cost.
struct ReadBudget final {
  std::chrono::milliseconds time{4000};  // wall time after which no further place is tried
  Effort effort = Effort::Full;
  int threads = 2;  // at most so many at once, 1 or more
};

struct SweepOptions final {
  ReadBudget frame{std::chrono::milliseconds{400}, Effort::Quick, 2};
};

// A label that was read, where it is in this frame: found again there, or carried on by the motion. One that
// is read from its pictures after it has left lies outside of the frame.
struct SweepSymbol final {
  int track = 0;  // one number for one label as long as it stays in view, from 1
  std::string text;
  Corners corners{};
  bool first = false;  // read in this frame for the first time on this track
};

// A place that looked like a symbol and left the view unread.
struct LostPlace final {
  int track = 0;
  int frame = 0;        // Frame::number of its best frame
  std::string file;     // Frame::file of that frame
  Corners corners{};    // there
  GrayPicture picture;  // the place and its surroundings, cut from that frame
  Corners in_picture{};
};

struct SweepView final {
  std::vector<SweepSymbol> symbols;  // top to bottom and left to right
  std::vector<LostPlace> lost;  // given up in this frame; some left the view a second before
  double shift_x = 0;     // how far the scene moved since the frame before, pixels; 0 in the first
  double shift_y = 0;
  double module = 0;      // pixels, median over the symbols in view; 0: none
  double brightness = 0;  // mean grey level, 0 to 255
  int unread = 0;         // places in view that are not read yet
};

// Not thread-safe. Memory is bounded by what is in view.
class Sweep {
 public:
  virtual ~Sweep() = default;
  virtual SweepView see(const Frame& frame) = 0;
  // After the last frame: what was still in view unread is tried once more. Only what that read (`first`, as of
  // the last frame) and what it did not (`lost`).
  virtual SweepView end() = 0;
};

}  // namespace loadlight::port
