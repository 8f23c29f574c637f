#include "bench/score.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <set>

namespace loadlight::bench {

void Score::add(const std::vector<std::string>& truth, const Reading& reading) {
  const std::set<std::string> known(truth.begin(), truth.end());
  const std::set<std::string> found(reading.texts.begin(), reading.texts.end());
  tried += static_cast<int>(known.size());
  for (const auto& text : found) (known.contains(text) ? read : wrong) += 1;
  seconds += reading.seconds;
  worst = std::max(worst, reading.seconds);
}

void Score::add(const Score& other) {
  tried += other.tried;
  read += other.read;
  wrong += other.wrong;
  seconds += other.seconds;
  worst = std::max(worst, other.worst);
}

std::string wilson(int read, int tried) {
  if (tried == 0) return "-";
  constexpr double kZ = 1.959964;  // 97.5 % quantile of the normal distribution
  const double n = tried;
  const double share = read / n;
  const double middle = (share + kZ * kZ / (2 * n)) / (1 + kZ * kZ / n);
  const double half = kZ / (1 + kZ * kZ / n) * std::sqrt(share * (1 - share) / n + kZ * kZ / (4 * n * n));
  return decimals(100 * std::max(0.0, middle - half), 0) + "-" +
         decimals(100 * std::min(1.0, middle + half), 0);
}

std::string decimals(double value, int places) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", places, value);
  return text;
}

void print_row(const std::vector<std::string>& cells) {
  for (const auto& cell : cells) std::cout << "| " << cell << " ";
  std::cout << "|" << std::endl;
}

void print_head(const std::vector<std::string>& cells) {
  print_row(cells);
  print_row(std::vector<std::string>(cells.size(), "---"));
}

}  // namespace loadlight::bench
