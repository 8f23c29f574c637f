// What a camera and the light do to a finished scene. Scenes are CV_32FC3 in grey levels, B, G, R.
#pragma once

#include <opencv2/core.hpp>

namespace loadlight::vision_tests {

// Half of the scene behind a coloured film, its edge through `middle`; strength 0 to 1.
void tint_half(cv::Mat& scene, cv::Point2d middle, double strength, cv::RNG& rng);

// A straight band blown out to white, `width` pixels wide between the middles of its soft edges (Gaussian,
// sigma `softness` pixels), at a random angle through `at`.
void blow_out(cv::Mat& scene, cv::Point2d at, double width, double softness, cv::RNG& rng);

// A Gaussian of `sigma` pixels.
void defocus(cv::Mat& scene, double sigma);

// A straight blur along `way`, a vector in pixels.
void move_blur(cv::Mat& scene, cv::Vec2d way);

// Sensor and file: noise of `sigma` grey levels on each channel, clipped, then JPEG. Returns CV_8UC3.
cv::Mat exposed(const cv::Mat& scene, double sigma, int jpeg, cv::RNG& rng);

}  // namespace loadlight::vision_tests
