// What a camera makes of labels: tilt, blur, glare, noise, low light, each in a unit of its own, always the
// same for the same seed.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision_tests {

// One harm a field; every range is that of the values that make sense. Zero (or the default) does nothing.
struct Harms final {
  double module = 4;     // pixels a module at the symbol's middle
  double turn = 0;       // degrees in the picture, 0 to 360
  double tilt = 0;       // degrees out of the picture, 0 to 60, seen from 300 modules away
  double defocus = 0.5;  // sigma of a Gaussian, pixels
  double motion = 0;     // length of a straight blur, pixels
  double glare = 0;      // width of a blown-out band, share of the symbol's side
  double light = 1;      // what white becomes, 1 is 255: low light is 0.15 to 0.4
  double contrast = 1;   // how much of the distance from black to white is left, 0 to 1
  double noise = 3;      // sigma in grey levels on every channel
  int jpeg = 92;         // quality, 1 to 100
};

struct TrueSymbol final {
  std::string text;
  std::array<port::PixelPoint, 4> corners;  // clockwise from the symbol's own top left
  double module = 0;                        // pixels, mean over the symbol
};

struct CameraView final {
  cv::Mat gray;
  cv::Mat bgr;
  std::vector<TrueSymbol> symbols;
};

// One pouch on a cluttered bench.
CameraView pouch_view(const Harms& harms, cv::RNG& rng, cv::Size frame = {960, 720});

// Harms drawn by lot for a hand-held camera at the chair; the worst of each do not all come together.
Harms chairside_harms(cv::RNG& rng);

// Clutter that holds no symbol.
cv::Mat cluttered_bench(cv::RNG& rng, cv::Size size);

// A shelf: columns x rows of labels at `harms.module`, most of them a little askew, on clutter.
CameraView shelf_view(int columns, int rows, const Harms& harms, cv::RNG& rng, cv::Size frame = {3840, 2160});

port::GrayView view_of(const cv::Mat& gray);

}  // namespace loadlight::vision_tests
