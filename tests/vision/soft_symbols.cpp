#include "vision/soft_symbols.h"

#include <algorithm>
#include <cmath>

namespace loadlight::vision_tests {
namespace {

float signed_certainty(bool dark, float certainty) {
  return dark ? certainty : -certainty;
}

}  // namespace

vision::SoftGrid soft_grid(const cv::Mat& symbol, float certainty) {
  vision::SoftGrid grid{symbol.cols, {}};
  for (auto level : cv::Mat_<std::uint8_t>(symbol))
    grid.dark.push_back(signed_certainty(level == 0, certainty));
  return grid;
}

vision::SoftGrid soft_grid(const core::SymbolGrid& symbol, float certainty) {
  vision::SoftGrid grid{symbol.form.side(), {}};
  for (auto module : symbol.modules) grid.dark.push_back(signed_certainty(module != 0, certainty));
  return grid;
}

vision::SoftGrid noisy(const core::SymbolGrid& symbol, double sigma, float confidence, Random& random) {
  std::normal_distribution<double> noise(0, sigma);
  auto grid = soft_grid(symbol, 1);
  for (auto& value : grid.dark) {  // levels 1 and -1 under this noise: the ratio is 2 * level / sigma^2
    const double ratio = 2 * (value + noise(random)) / (sigma * sigma) * confidence;
    value = static_cast<float>(std::clamp<double>(ratio, -vision::kMostLikelihood, vision::kMostLikelihood));
  }
  return grid;
}

vision::SoftGrid random_grid(int side, float certainty, Random& random) {
  vision::SoftGrid grid{side, {}};
  for (int i = 0; i < side * side; ++i) {
    grid.dark.push_back(signed_certainty(between(0, 1, random) == 1, certainty));
  }
  return grid;
}

void cover(vision::SoftGrid& grid, double share, float certainty, Random& random) {
  const double stretch = std::uniform_real_distribution<double>(0.7, 1.4)(random);
  const double side = std::sqrt(share) * grid.side;
  const int width = std::min(grid.side, static_cast<int>(std::lround(side * stretch)));
  const int height = std::min(grid.side, static_cast<int>(std::lround(side / stretch)));
  const int left = between(0, grid.side - width, random);
  const int top = between(0, grid.side - height, random);
  for (int y = top; y < top + height; ++y) {
    for (int x = left; x < left + width; ++x) {
      grid.dark[static_cast<std::size_t>(y * grid.side + x)] =
          signed_certainty(between(0, 1, random) == 1, certainty);
    }
  }
}

int between(int least, int most, Random& random) {
  return std::uniform_int_distribution<int>(least, most)(random);
}

std::string random_text(std::size_t length, Random& random) {
  std::string text(length, ' ');
  for (auto& c : text) c = static_cast<char>(between('a', 'z', random));
  return text;
}

}  // namespace loadlight::vision_tests
