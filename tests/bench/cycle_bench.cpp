// How fast, and in how much memory, cycle logs are read and analysed: rows are made, fed in chunks as a file
// would be, and the time of feeding alone is counted. Give counts in rising order: peak memory is that of the
// process so far.
//
//   cycle_bench [ROWS…]        100000 and 10000000 unless said

#include <sys/resource.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "loadlight/core/cycle_criteria.h"
#include "loadlight/exchange/cycle_log.h"

namespace {

using namespace loadlight;
using Seconds = std::chrono::duration<double>;

constexpr std::size_t kChunk = 64u << 10;
constexpr long kRowsPerCycle = 3600;
constexpr const char* kMapping =
    "loadlight-mapping 1\nseparator comma\ntime column=seconds form=seconds\n"
    "temperature column=celsius unit=C\npressure column=kpa unit=kPa reference=absolute\ninterval 1\n";

// Cycle after cycle: air removal, heating, ten minutes at 134.9 C, drying.
void add_row(std::string& text, long row) {
  const long at = row % kRowsPerCycle;
  const double wave = std::sin(static_cast<double>(row) / 17) / 5;
  double celsius = 60 + 30 * std::sin(static_cast<double>(at) / 40);
  double kpa = 70 + 50 * std::sin(static_cast<double>(at) / 40);
  if (at >= 900 && at < 1500) celsius = 134.9 + wave, kpa = 312.3 + 9 * wave;
  if (at >= 1500) celsius = 96 + wave, kpa = 8 + wave;
  char line[64];
  text.append(
      line, static_cast<std::size_t>(std::snprintf(line, sizeof line, "%ld,%.2f,%.1f\n", row, celsius, kpa)));
}

double peak_megabytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

struct Measured final {
  double seconds = 0;
  double megabytes = 0;
};

Measured measure(long rows) {
  core::CycleSettings settings;
  settings.programmed_celsius = 134;
  core::CycleReader cycle{settings};
  exchange::CycleLogReader reader{*exchange::parse_mapping("bench", kMapping),
                                  [&cycle](const core::CycleSample& s) {
                                    if (!cycle.add(s)) std::abort();
                                  }};
  std::string text = "seconds,celsius,kpa\n";
  Seconds spent{0};
  for (long row = 0; row < rows;) {
    while (row < rows && text.size() < kChunk) add_row(text, row++);
    const auto start = std::chrono::steady_clock::now();
    reader.feed(text);
    spent += std::chrono::steady_clock::now() - start;
    text.clear();
  }
  const auto summary = reader.finish();
  const auto results = core::judge_cycle(cycle.findings(), {134, 3, 20});
  if (!summary || summary->samples != static_cast<std::size_t>(rows) || results.empty()) std::abort();
  return {spent.count(), peak_megabytes()};
}

}  // namespace

int main(int count, char** values) {
  std::vector<long> rows;
  for (int i = 1; i < count; ++i) rows.push_back(std::atol(values[i]));
  if (rows.empty()) rows = {100'000, 10'000'000};
  Measured first;
  for (const long n : rows) {
    if (n < 100) return std::fputs("usage: cycle_bench [ROWS…] (100 or more)\n", stderr), 2;
    const Measured m = measure(n);
    if (first.seconds == 0) first = m;
    std::printf("%ld rows: %.3f s, %.2f million rows a second, peak %.1f MB (%.2f of the first)\n", n,
                m.seconds, static_cast<double>(n) / m.seconds / 1e6, m.megabytes,
                m.megabytes / first.megabytes);
  }
  return 0;
}
