// One station of an office on PostgreSQL, in a process of its own, with the world around it turned by hand. It keeps
// a journal of what it was told is done.
#pragma once

#include <chrono>
#include <deque>
#include <fstream>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "app/hand_fakes.h"
#include "label/plain_gauge.h"
#include "loadlight/app/ports.h"
#include "loadlight/port/store.h"
#include "loadlight/report/words.h"

namespace loadlight::tests {

// Noon of one day, and as much later as has passed since the stations began to work: no station's day ends.
class WorkdayClock final : public port::Clock {
 public:
  explicit WorkdayClock(std::chrono::system_clock::time_point begun) : begun_(begun) {}
  core::Instant now() const override;

 private:
  const std::chrono::system_clock::time_point begun_;
};

// The office's authenticators, and random ids that no other station draws.
class StationKeyring final : public port::Keyring {
 public:
  explicit StationKeyring(std::uint64_t seed) : draw_(seed) {}
  std::string mac(std::string_view signed_part) const override { return keys_.mac(signed_part); }
  bool verifies(std::string_view signed_part, std::string_view authenticator) const override {
    return keys_.verifies(signed_part, authenticator);
  }
  int current_key() const override { return keys_.current_key(); }
  void fill_random(std::span<std::uint8_t> out) const override {
    for (std::uint8_t& byte : out) byte = static_cast<std::uint8_t>(draw_());
  }

 private:
  PlainKeyring keys_{"the office's key"};
  mutable std::mt19937_64 draw_;
};

struct StationOptions final {
  std::string address{};
  std::string name{};
  std::uint64_t seed = 1;
  std::chrono::system_clock::time_point begun = std::chrono::system_clock::now();
  std::string journal{};  // a file's path; empty: none
};

class Station final {
 public:
  // Ends the process when the office cannot be opened.
  explicit Station(StationOptions options);

  app::Ports ports() { return {*store_, clock_, zone_, keyring_}; }
  app::PrintShop shop() const;
  // From 0 to `below`, that one not included.
  int draw(int below) { return std::uniform_int_distribution<int>{0, below - 1}(dice_); }

  // A line of the journal, whole on its way before this returns.
  void note(int number, std::string_view operation, const std::string& subject, std::string_view outcome, int repeated);

 private:
  HandFiles files_;
  HandPress press_;
  PlainGauge gauge_;
  BlankEncoder encoder_;
  UtcZone zone_;
  WorkdayClock clock_;
  StationKeyring keyring_;
  std::mt19937_64 dice_;
  std::ofstream journal_;
  std::vector<std::string> commits_;  // "last:entries:hash" of each since the last note
  std::unique_ptr<port::Store> store_;
};

std::string file_text(const std::string& path);
// Prints the failure and ends the process.
[[noreturn]] void give_up(const std::string& doing, const core::Failure& failure);

template <class T>
T need(const std::string& doing, core::Result<T> result) {
  if (!result) give_up(doing, result.failure());
  return std::move(*result);
}
inline void need(const std::string& doing, const core::Result<void>& result) {
  if (!result) give_up(doing, result.failure());
}

}  // namespace loadlight::tests
