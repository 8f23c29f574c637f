#include "bench/peers.h"

#include <chrono>
#include <ctime>
#include <memory>

#include "loadlight/vision/readers.h"
#include "vision/plain_reader.h"

namespace loadlight::bench {
namespace {

double clock_seconds(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

std::vector<std::string> texts_of(const port::Look& look) {
  std::vector<std::string> texts;
  for (const auto& sighting : look.read) texts.push_back(sighting.text);
  return texts;
}

std::vector<std::string> ours(std::span<const port::GrayView> shots, int threads) {
  port::ReadBudget budget;
  budget.time = std::chrono::minutes(1);  // others on the machine are not to cost us a label
  budget.threads = threads;
  return texts_of(shots.size() == 1 ? our_reader().look(shots.front(), budget)
                                    : our_reader().look(shots, budget));
}

std::vector<std::string> texts_by(Who who, std::span<const port::GrayView> shots, int threads) {
  if (who == Who::Ours) return ours(shots, threads);
  std::vector<std::string> texts;
  for (const auto& shot : shots) {
    const auto more = who == Who::Zxing ? vision_tests::plain_zxing(shot) : vision_tests::plain_zbar(shot);
    texts.insert(texts.end(), more.begin(), more.end());
  }
  return texts;
}

Reading timed(Who who, std::span<const port::GrayView> shots, int threads, clockid_t clock) {
  const double start = clock_seconds(clock);
  Reading reading{texts_by(who, shots, threads), 0};
  reading.seconds = clock_seconds(clock) - start;
  return reading;
}

}  // namespace

const char* name_of(Who who) {
  switch (who) {
    case Who::Ours:
      return "ours";
    case Who::Zxing:
      return "plain ZXing";
    case Who::Zbar:
      return "zbar";
  }
  return "";
}

double program_seconds() {
  return clock_seconds(CLOCK_PROCESS_CPUTIME_ID);
}

const port::SymbolReader& our_reader() {
  static const auto reader = vision::make_symbol_reader();
  return *reader;
}

Reading read_with(Who who, std::span<const port::GrayView> shots) {
  return timed(who, shots, 1, CLOCK_THREAD_CPUTIME_ID);
}

Reading read_frame_with(Who who, port::GrayView frame) {
  return timed(who, std::span(&frame, 1), 2, CLOCK_PROCESS_CPUTIME_ID);
}

}  // namespace loadlight::bench
