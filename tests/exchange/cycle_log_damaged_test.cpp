#include <catch2/catch.hpp>

#include <cmath>
#include <iostream>
#include <random>

#include "exchange/cycle_files.h"

// Logs that were damaged in every way that bytes can be: whatever comes, a sample that is handed on is one
// that could have been measured.

namespace loadlight::exchange {
namespace {

constexpr int kDamagedLogs = 20'000;
constexpr int kDamagedMappings = 20'000;

// Reads a log to its end. Fails the test if a sample breaks a promise of the reader's.
bool read_safely(const LogMapping& mapping, std::string_view text) {
  core::CycleReader cycle{{121, 0.5, mapping.nominal_seconds, mapping.barometric_kpa, {}}};
  bool kept = true;
  CycleLogReader reader{mapping, [&](const core::CycleSample& s) {
                          kept = kept && std::isfinite(s.seconds) && std::isfinite(s.celsius);
                          kept = kept && (!s.kpa_abs || std::isfinite(*s.kpa_abs));
                          kept = cycle.add(s) && kept;
                        }};
  for (std::size_t at = 0; at < text.size(); at += 97) reader.feed(text.substr(at, 97));
  const auto summary = reader.finish();
  const core::CycleFindings found = cycle.findings();
  kept = kept && std::isfinite(found.f0_minutes) && std::isfinite(found.longest_step_seconds);
  kept = kept && core::judge_cycle(found, {121, 30, 15}).size() == core::all_criteria().size();
  if (!kept) FAIL("a sample was handed on that cannot have been measured");
  return summary.ok();
}

struct SmallLog final {
  const char* mapping;
  const char* file;
};
constexpr SmallLog kLogs[] = {{"minute-strip", "one-a-minute.txt"},
                              {"plain-seconds", "aborted.csv"},
                              {"card-comma", "decimal-commas.csv"},
                              {"dated-clock", "clock-put-back.tsv"},
                              {"wall-clock", "over-midnight.log"}};

std::string text_of(const SmallLog& log, std::size_t most) {
  return file_text(std::string{"samples/cycles/"} + log.file).substr(0, most);
}

TEST_CASE("Every prefix of a log is read or refused") {
  for (const SmallLog& log : kLogs) {
    const LogMapping mapping = mapping_named(log.mapping);
    const std::string text = text_of(log, 1700);
    for (std::size_t length = 0; length <= text.size(); ++length) {
      read_safely(mapping, std::string_view{text}.substr(0, length));
    }
  }
}

void damage(std::string& text, std::mt19937& random) {
  constexpr std::string_view kLikely = "0123456789.,;:-+eE\"\n\r\t |nNaAiIfF/%";
  for (auto left = 1 + random() % 4; left > 0 && !text.empty(); --left) {
    const std::size_t at = random() % text.size();
    switch (random() % 5) {
      case 0:
        text[at] = static_cast<char>(text[at] ^ (1 << random() % 8));
        break;
      case 1:
        text[at] = kLikely[random() % kLikely.size()];
        break;
      case 2:
        text.erase(at, random() % 40);
        break;
      case 3:
        text.insert(at, text.substr(random() % text.size(), random() % 60));
        break;
      case 4:
        text.insert(at, 1, static_cast<char>(random()));
        break;
    }
  }
}

TEST_CASE("Damaged logs never yield a sample that cannot be") {
  std::mt19937 random{134};
  int accepted = 0;
  for (int i = 0; i < kDamagedLogs; ++i) {
    const SmallLog& log = kLogs[static_cast<std::size_t>(i) % std::size(kLogs)];
    std::string text = text_of(log, 6000);
    damage(text, random);
    accepted += read_safely(mapping_named(log.mapping), text) ? 1 : 0;
  }
  std::cout << "damaged logs: " << kDamagedLogs << ", of which still read: " << accepted << "\n";
  CHECK(accepted > kDamagedLogs / 100);
  CHECK(accepted < kDamagedLogs);
}

TEST_CASE("Damaged mappings are read or refused") {
  std::mt19937 random{121};
  const std::string good = file_text("templates/mappings/altitude-psi.mapping");
  int accepted = 0;
  for (int i = 0; i < kDamagedMappings; ++i) {
    std::string text = good;
    damage(text, random);
    const auto mapping = parse_mapping("m", text);
    if (!mapping) continue;
    ++accepted;
    CHECK(mapping->nominal_seconds > 0);
    CHECK(mapping->nominal_seconds <= 60);
    CHECK(mapping->barometric_kpa >= 50);
    CHECK(mapping->barometric_kpa <= 110);
  }
  std::cout << "damaged mappings: " << kDamagedMappings << ", of which still read: " << accepted << "\n";
}

}  // namespace
}  // namespace loadlight::exchange
