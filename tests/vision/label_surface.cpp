#include "vision/label_surface.h"

#include <cmath>
#include <opencv2/imgproc.hpp>

namespace loadlight::vision_tests {
namespace {

constexpr double kCorrelation = 12;    // modules, where a wrinkle's correlation has fallen to 1/e
constexpr double kCurlShade = 0.55;    // share of the light that depends on the slope
constexpr double kWrinkleShade = 1.0;  // change of light for a slope of one
constexpr double kFlattest = 1e-4;     // radians: less curl is none

cv::Matx33d about_z(double angle) {
  return {std::cos(angle), -std::sin(angle), 0, std::sin(angle), std::cos(angle), 0, 0, 0, 1};
}

cv::Matx33d about_x(double angle) {
  return {1, 0, 0, 0, std::cos(angle), -std::sin(angle), 0, std::sin(angle), std::cos(angle)};
}

}  // namespace

cv::Mat wrinkle_field(double rms, double reach, cv::RNG& rng) {
  // White noise under a Gaussian of sigma s correlates as exp(-r^2 / 4 s^2).
  const double sigma = kCorrelation / 2 / kWrinklePitch;
  const int size = 2 * static_cast<int>(std::ceil(reach / kWrinklePitch)) + 1;
  cv::Mat field(size, size, CV_32FC2);
  rng.fill(field, cv::RNG::NORMAL, 0, 1);
  cv::GaussianBlur(field, field, {}, sigma, sigma, cv::BORDER_REFLECT);
  return field * (rms * 2 * sigma * std::sqrt(CV_PI));
}

LabelSurface::LabelSurface(const SurfaceShape& shape, const Pose& pose)
    : shape_(shape),
      pose_(pose),
      radius_(shape.curl < kFlattest ? 0 : shape.side / shape.curl),
      axis_(std::cos(shape.curl_axis), std::sin(shape.curl_axis)),
      turned_(about_z(pose.tilt_axis) * about_x(pose.tilt) * about_z(pose.turn - pose.tilt_axis)) {}

cv::Point2d LabelSurface::to_axes(cv::Point2d p) const {
  return {axis_.x * p.x + axis_.y * p.y, -axis_.y * p.x + axis_.x * p.y};
}

cv::Point2d LabelSurface::from_axes(cv::Point2d p) const {
  return {axis_.x * p.x - axis_.y * p.y, axis_.y * p.x + axis_.x * p.y};
}

cv::Vec2d LabelSurface::wrinkle_at(cv::Point2d surface) const {
  if (shape_.wrinkle.empty()) return {0, 0};
  const cv::Mat& field = shape_.wrinkle;
  const double x = std::clamp(surface.x / kWrinklePitch + field.cols / 2, 0.0, field.cols - 1.001);
  const double y = std::clamp(surface.y / kWrinklePitch + field.rows / 2, 0.0, field.rows - 1.001);
  const int left = static_cast<int>(x);
  const int top = static_cast<int>(y);
  const auto fx = static_cast<float>(x - left);
  const auto fy = static_cast<float>(y - top);
  const auto* upper = field.ptr<cv::Vec2f>(top) + left;
  const auto* lower = field.ptr<cv::Vec2f>(top + 1) + left;
  return (1 - fy) * ((1 - fx) * upper[0] + fx * upper[1]) + fy * ((1 - fx) * lower[0] + fx * lower[1]);
}

double LabelSurface::wrinkle_shade(cv::Point2d surface) const {
  if (shape_.wrinkle.empty()) return 1;
  const auto before = wrinkle_at(surface - cv::Point2d(1, 1));
  const auto after = wrinkle_at(surface + cv::Point2d(1, 1));
  const double slope = (after[0] - before[0] + after[1] - before[1]) / 4;
  return std::clamp(1 + kWrinkleShade * slope, 0.4, 1.3);
}

LabelSurface::Spot LabelSurface::lit(cv::Point2d surface, double curl_angle) const {
  const double slope_light = 1 - kCurlShade * (1 - std::cos(curl_angle));
  return {surface + cv::Point2d(wrinkle_at(surface)), slope_light * wrinkle_shade(surface)};
}

std::optional<LabelSurface::Spot> LabelSurface::spot(cv::Point2d pixel) const {
  const cv::Point2d offset = (pixel - pose_.middle) / pose_.module;
  // The ray from the eye through the pixel, in the label's frame, its z away from the eye.
  const cv::Vec3d eye = turned_.t() * cv::Vec3d(0, 0, -kEyeDistance);
  const cv::Vec3d ray = turned_.t() * cv::Vec3d(offset.x, offset.y, kEyeDistance);
  return radius_ != 0 && shape_.deep ? spot_on_cylinder(eye, ray) : spot_in_plane(eye, ray);
}

std::optional<LabelSurface::Spot> LabelSurface::spot_in_plane(cv::Vec3d eye, cv::Vec3d ray) const {
  const double reach = -eye[2] / ray[2];
  const cv::Point2d plane((eye[0] + reach * ray[0]) / pose_.squeeze[0],
                          (eye[1] + reach * ray[1]) / pose_.squeeze[1]);
  if (radius_ == 0) return lit(plane, 0);
  const auto axes = to_axes(plane);
  if (std::abs(axes.x) >= radius_) return std::nullopt;
  const double angle = std::asin(axes.x / radius_);
  return lit(from_axes({radius_ * angle, axes.y}), angle);
}

std::optional<LabelSurface::Spot> LabelSurface::spot_on_cylinder(cv::Vec3d eye, cv::Vec3d ray) const {
  // Across the axis the surface is the circle t^2 + (z - radius)^2 = radius^2.
  const cv::Point2d eye_axes = to_axes({eye[0] / pose_.squeeze[0], eye[1] / pose_.squeeze[1]});
  const cv::Point2d ray_axes = to_axes({ray[0] / pose_.squeeze[0], ray[1] / pose_.squeeze[1]});
  const double depth = eye[2] - radius_;
  const double a = ray_axes.x * ray_axes.x + ray[2] * ray[2];
  const double b = eye_axes.x * ray_axes.x + depth * ray[2];
  const double root = b * b - a * (eye_axes.x * eye_axes.x + depth * depth - radius_ * radius_);
  if (root < 0) return std::nullopt;
  const double reach = (-b - std::sqrt(root)) / a;
  const double angle = std::atan2(eye_axes.x + reach * ray_axes.x, -(depth + reach * ray[2]));
  return lit(from_axes({radius_ * angle, eye_axes.y + reach * ray_axes.y}), angle);
}

cv::Point2d LabelSurface::seen(cv::Point2d material) const {
  cv::Point2d surface = material;  // printed = surface + wrinkle(surface), solved by iteration
  for (int i = 0; i < 12; ++i) surface = material - cv::Point2d(wrinkle_at(surface));
  cv::Vec3d place(surface.x, surface.y, 0);
  if (radius_ != 0) {
    auto axes = to_axes(surface);
    const double angle = axes.x / radius_;
    const auto flat = from_axes({radius_ * std::sin(angle), axes.y});
    place = {flat.x, flat.y, shape_.deep ? radius_ * (1 - std::cos(angle)) : 0};
  }
  place = turned_ * cv::Vec3d(place[0] * pose_.squeeze[0], place[1] * pose_.squeeze[1], place[2]);
  const double scale = pose_.module / (1 + place[2] / kEyeDistance);
  return pose_.middle + cv::Point2d(place[0], place[1]) * scale;
}

bool LabelSurface::faces_the_eye(cv::Point2d material) const {
  return radius_ == 0 || std::abs(to_axes(material).x) < radius_ * CV_PI / 2;
}

}  // namespace loadlight::vision_tests
