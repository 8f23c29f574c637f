// What checkpoints say about a ledger.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "loadlight/app/verify_ledger.h"

namespace loadlight::app {

// Where checkpoints were found.
enum class Witness { Office, Station, Given };

struct WitnessList final {
  Witness witness = Witness::Office;
  port::CheckpointList list;
};

class CheckpointJudging final {
 public:
  // `office`: hash of the ledger's first entry, `last` its last entry. Of a copy nothing is said about what
  // came after it.
  CheckpointJudging(const port::Unit& unit, std::string office, std::int64_t last, bool copy)
      : unit_(unit), office_(std::move(office)), last_(last), copy_(copy) {}

  // Every list, in any order.
  core::Result<void> hear(const WitnessList& heard);
  // Once all were heard.
  LedgerVerdict verdict() const;

 private:
  struct Reach final {  // of the genuine ones that stand
    int count = 0;
    std::int64_t newest = 0;
    core::Instant at{};
  };

  core::Result<void> weigh(Witness witness, const port::KeptCheckpoint& kept);
  void remember(Witness witness, const port::KeptCheckpoint& kept);
  void add_missing(std::vector<port::Alteration>& alterations) const;
  void add_contradicted(std::vector<port::Alteration>& alterations) const;

  const port::Unit& unit_;
  std::string office_;
  std::int64_t last_;
  bool copy_;
  std::vector<port::Alteration> forged_;
  std::vector<core::Sentence> notes_;
  std::vector<std::int64_t> agreed_;
  std::vector<std::int64_t> contradicted_;
  std::int64_t furthest_ = 0;
  Reach office_reach_, station_reach_;
  std::set<std::string> in_office_, in_station_;  // signatures of those that stand
};

}  // namespace loadlight::app
