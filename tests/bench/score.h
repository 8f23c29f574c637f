// Counts of reads, their intervals, and rows of a Markdown table.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "bench/peers.h"

namespace loadlight::bench {

struct Score final {
  int tried = 0;
  int read = 0;
  int wrong = 0;
  double seconds = 0;
  double worst = 0;  // seconds of one read

  double rate() const { return tried == 0 ? 0 : 100.0 * read / tried; }  // percent
  double mean() const { return tried == 0 ? 0 : seconds / tried; }       // seconds a label
  void add(const std::vector<std::string>& truth, const Reading& reading);
  void add(const Score& other);
};
using Scores = std::array<Score, kEverybody.size()>;  // as in kEverybody

inline Score& of(Scores& scores, Who who) {
  return scores[static_cast<std::size_t>(who)];
}
inline const Score& of(const Scores& scores, Who who) {
  return scores[static_cast<std::size_t>(who)];
}

// Wilson's score interval at 95 %, percent: "91-96".
std::string wilson(int read, int tried);

std::string decimals(double value, int places);

// Prints "| a | b |" and flushes.
void print_row(const std::vector<std::string>& cells);
void print_head(const std::vector<std::string>& cells);

}  // namespace loadlight::bench
