// Turns a clean picture of a page into what a hand-held camera would see of it: tilted on a bench, lit from
// one side, slightly out of focus, grainy, saved as JPEG. The same page gives the same view every time.
//
//   camera_view PAGE.png VIEW.jpg

#include <cstdio>
#include <vector>

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

namespace {

const cv::Scalar kBench{96, 118, 132};  // blue, green, red

cv::Mat on_the_bench(const cv::Mat& page) {
  const float w = static_cast<float>(page.cols);
  const float h = static_cast<float>(page.rows);
  const std::vector<cv::Point2f> from{{0, 0}, {w, 0}, {w, h}, {0, h}};
  const std::vector<cv::Point2f> to{
      {0.11F * w, 0.07F * h}, {0.98F * w, 0.03F * h}, {1.08F * w, 1.06F * h}, {0.04F * w, 1.10F * h}};
  cv::Mat view;
  const cv::Size size{static_cast<int>(1.14F * w), static_cast<int>(1.15F * h)};
  cv::warpPerspective(page, view, cv::getPerspectiveTransform(from, to), size, cv::INTER_AREA,
                      cv::BORDER_CONSTANT, kBench);
  return view;
}

// Bright at the top left, half as bright at the bottom right.
void light_from_one_side(cv::Mat& view) {
  for (int y = 0; y < view.rows; ++y) {
    for (int x = 0; x < view.cols; ++x) {
      const double way = 0.5 * x / view.cols + 0.5 * y / view.rows;
      view.at<cv::Vec3b>(y, x) *= 0.95 - 0.4 * way;
    }
  }
}

void add_grain(cv::Mat& view) {
  cv::Mat grain(view.size(), CV_16SC3);
  cv::RNG random{20260417};
  random.fill(grain, cv::RNG::NORMAL, 0, 5);
  cv::Mat wide;
  view.convertTo(wide, CV_16SC3);
  wide += grain;
  wide.convertTo(view, CV_8UC3);
}

}  // namespace

int main(int count, char** values) {
  if (count != 3) {
    std::fputs("usage: camera_view PAGE.png VIEW.jpg\n", stderr);
    return 2;
  }
  const cv::Mat page = cv::imread(values[1], cv::IMREAD_COLOR);
  if (page.empty()) {
    std::fprintf(stderr, "camera_view: %s is not a picture\n", values[1]);
    return 1;
  }
  cv::Mat view = on_the_bench(page);
  light_from_one_side(view);
  cv::GaussianBlur(view, view, {}, 0.9);
  add_grain(view);
  return cv::imwrite(values[2], view, {cv::IMWRITE_JPEG_QUALITY, 85}) ? 0 : 1;
}
