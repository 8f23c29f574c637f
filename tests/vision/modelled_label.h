// Modelled pouch labels: every harm in its own unit, as the reading bench and its peers are compared on.
// The same seed always draws the same label.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "loadlight/port/symbol_reader.h"
#include "vision/label_surface.h"
#include "vision/pouch_art.h"

namespace loadlight::vision_tests {

// One harm a field; zero (or the default) is a label in good sight.
struct LabelHarms final {
  double module = 4;        // pixels a module at the symbol's middle
  double tilt = 0;          // degrees out of the picture, perspective from 300 modules away
  double curl = 0;          // degrees of a cylinder that the symbol's side spans, its axis by lot
  bool deep = false;        // the cylinder recedes from the eye, and hides part of itself when tilted
  double wrinkle = 0;       // displacement, rms in modules, correlation length 12 modules
  double base_blur = 0.5;   // Gaussian sigma of the lens, pixels; every other blur comes on top of it
  double defocus = 0;       // Gaussian sigma, pixels
  double motion = 0;        // straight blur, pixels
  double glare = 0;         // width of a saturated band, share of the symbol's side
  double tape = 0;          // an opaque rectangle wholly on the symbol, share of its area
  double tape_reach = 0.3;  // farthest from middle to middle on each axis, share of the side; 0.5: anywhere
  double contrast = 0.8;    // (white - black) / 255
  double noise = 3;         // Gaussian sigma on each channel, grey levels
  int jpeg = 92;            // quality, 1 to 100
  double tint = 0;          // strength of a coloured half, 0 to 1
};

// All harms by lot, difficulty 0 to 1; the bench reports 0.6 and 0.75.
LabelHarms all_at_once(double difficulty, cv::RNG& rng);

struct LabelTruth final {
  std::string text;
  cv::Mat modules;                      // CV_8U, side x side, 0 dark, 255 light
  port::Corners corners{};              // clockwise from the symbol's own top left
  std::vector<port::PixelPoint> nodes;  // (side + 1)^2 corners of modules, row by row
  LabelHarms harms;                     // those it was drawn with

  int side() const { return modules.cols; }
  port::PixelPoint node(int x, int y) const { return nodes[static_cast<std::size_t>(y * (side() + 1) + x)]; }
};

struct ModelledLabel final {
  cv::Mat gray;
  cv::Mat bgr;
  LabelTruth truth;
};

// The grey level of a label's white; what fades is the black.
inline constexpr double kWhite = 242;

inline constexpr int kLabelFrameWidth = 640;
inline constexpr int kLabelFrameHeight = 480;

// A 50 x 25 mm label of version 3 to 6, M or Q, on a pouch on a cluttered bench.
ModelledLabel modelled_label(const LabelHarms& harms, cv::RNG& rng);

// Shots of one label: text, curl, wrinkle and tape stay; the pose moves a little; where the glare lies, and
// the ways of blur and noise, are drawn anew.
std::vector<ModelledLabel> modelled_shots(const LabelHarms& harms, int count, cv::RNG& rng);

// The same of a label with all harms at once; defocus, motion, glare and noise of every shot drawn anew. A
// deep curl recedes from the eye.
std::vector<ModelledLabel> modelled_shots(double difficulty, int count, cv::RNG& rng, bool deep = false);

// A label with its text, symbol, artwork and surface, before any camera.
struct LabelSubject final {
  std::string text;
  cv::Mat modules;
  PouchArt art;
  SurfaceShape shape;
};
enum class Around { Pouch, Nothing };
LabelSubject label_subject(const LabelHarms& harms, Around around, cv::RNG& rng);

// Lays the subject into a CV_32FC3 scene, printed white becoming `light` and black `dark` grey levels.
// Steps only over the part of the scene it covers.
void lay_subject(cv::Mat& scene, const LabelSubject& subject, const Pose& pose, double dark, double light);

LabelTruth truth_of(const LabelSubject& subject, const Pose& pose);

}  // namespace loadlight::vision_tests
