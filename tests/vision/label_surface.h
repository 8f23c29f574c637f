// The surface a label lies on, and how a camera sees it: curled, wrinkled, tilted, turned.
#pragma once

#include <opencv2/core.hpp>
#include <optional>

namespace loadlight::vision_tests {

// What stays with the label from shot to shot. Lengths in modules of its symbol, from the symbol's middle.
struct SurfaceShape final {
  double curl = 0;       // radians of a cylinder that one side of the symbol spans; 0 is flat
  double curl_axis = 0;  // radians in the label's plane
  bool deep = false;     // the curl recedes from the eye; else it is drawn in the plane, and the plane tilted
  double side = 0;       // modules a side of the symbol
  cv::Mat wrinkle;       // CV_32FC2, displacements every kWrinklePitch modules; empty is smooth
};

// What changes with every shot.
struct Pose final {
  double module = 4;  // pixels at the symbol's middle
  double turn = 0;    // radians in the picture
  double tilt = 0;    // radians out of the picture, seen from kEyeDistance
  double tilt_axis = 0;
  cv::Point2d middle;       // pixels: where the symbol's middle is seen
  cv::Vec2d squeeze{1, 1};  // foreshortening of the label's own axes
};

inline constexpr double kEyeDistance = 300;  // modules
inline constexpr double kWrinklePitch = 2;   // modules

// A smooth random displacement of `rms` modules on each axis, over 2 * reach modules a side.
cv::Mat wrinkle_field(double rms, double reach, cv::RNG& rng);

// Where the picture shows what. Cheap to copy.
class LabelSurface final {
 public:
  LabelSurface(const SurfaceShape& shape, const Pose& pose);

  struct Spot final {
    cv::Point2d material;  // modules from the symbol's middle, as printed
    double shade = 1;      // of the light that falls on a flat label
  };
  // What is seen at a pixel; nothing beside the cylinder.
  std::optional<Spot> spot(cv::Point2d pixel) const;

  // Where a printed point is seen, hidden behind the curl or not.
  cv::Point2d seen(cv::Point2d material) const;

  // Whether the curl hides nothing of it from the eye.
  bool faces_the_eye(cv::Point2d material) const;

 private:
  cv::Vec2d wrinkle_at(cv::Point2d surface) const;
  double wrinkle_shade(cv::Point2d surface) const;
  Spot lit(cv::Point2d surface, double curl_angle) const;
  std::optional<Spot> spot_in_plane(cv::Vec3d eye, cv::Vec3d ray) const;
  std::optional<Spot> spot_on_cylinder(cv::Vec3d eye, cv::Vec3d ray) const;
  cv::Point2d to_axes(cv::Point2d surface) const;
  cv::Point2d from_axes(cv::Point2d across_along) const;

  SurfaceShape shape_;
  Pose pose_;
  double radius_;       // modules; 0 when flat
  cv::Point2d axis_;    // cosine and sine of the curl's axis
  cv::Matx33d turned_;  // from the label's frame to the eye's
};

}  // namespace loadlight::vision_tests
