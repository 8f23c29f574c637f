#include "checkpoint_judging.h"

#include <algorithm>
#include <optional>

namespace loadlight::app {
namespace {

using core::Checkpoint;
using core::Result;
using port::KeptCheckpoint;

std::string range(std::int64_t first, std::int64_t last) {
  const std::string name = "ledger " + std::to_string(first);
  return first >= last ? name : name + "-" + std::to_string(last);
}

// A later one of this station's own, made when the record was put back from a copy that ends before.
const Checkpoint* given_up_by(const std::vector<KeptCheckpoint>& kept, std::size_t index) {
  for (std::size_t i = index + 1; i < kept.size(); ++i) {
    const auto& after = kept[i].checkpoint.restored_after;
    if (kept[i].own && after && *after < kept[index].checkpoint.sequence) return &kept[i].checkpoint;
  }
  return nullptr;
}

}  // namespace

Result<void> CheckpointJudging::hear(const WitnessList& heard) {
  const auto& [witness, list] = heard;
  if (list.unreadable > 0) {
    notes_.push_back({"ledger.checkpoints-unreadable",
                      {{"path", list.path}, {"count", std::to_string(list.unreadable)}}});
  }
  for (std::size_t i = 0; i < list.kept.size(); ++i) {
    const KeptCheckpoint& kept = list.kept[i];
    if (!kept.genuine) {
      forged_.push_back({list.path + ":" + std::to_string(kept.line), "checkpoint-forged"});
      continue;
    }
    if (given_up_by(list.kept, i)) continue;
    remember(witness, kept);
    if (const auto weighed = weigh(witness, kept); !weighed) return weighed;
  }
  return {};
}

// What a copy that was put back held of earlier ones is left open: they may have been kept while it was made.
void CheckpointJudging::remember(Witness witness, const KeptCheckpoint& kept) {
  if (witness == Witness::Office) in_office_.insert(kept.checkpoint.signature);
  if (witness != Witness::Station) return;
  if (kept.own && kept.checkpoint.restored_after) in_station_.clear();
  in_station_.insert(kept.checkpoint.signature);
}

Result<void> CheckpointJudging::weigh(Witness witness, const KeptCheckpoint& kept) {
  const Checkpoint& point = kept.checkpoint;
  if (point.office == office_ && point.sequence > last_) {
    furthest_ = std::max(furthest_, point.sequence);
    return {};
  }
  const auto hash = unit_.ledger_hash(point.sequence);
  if (!hash) return hash.failure();
  if (point.office != office_ || !*hash || **hash != point.hash) {
    contradicted_.push_back(point.sequence);
    return {};
  }
  agreed_.push_back(point.sequence);
  Reach& reach = witness == Witness::Office ? office_reach_ : station_reach_;
  ++reach.count;
  if (point.sequence < reach.newest) return {};
  reach.newest = point.sequence;
  reach.at = point.at;
  return {};
}

// What the station keeps stands in the office's file, unless somebody took it out.
void CheckpointJudging::add_missing(std::vector<port::Alteration>& alterations) const {
  const bool all =
      std::includes(in_office_.begin(), in_office_.end(), in_station_.begin(), in_station_.end());
  if (!all && !copy_) alterations.push_back({"checkpoints.jsonl", "checkpoints-missing"});
}

// From behind the last one that agrees: where in between, no checkpoint can tell.
void CheckpointJudging::add_contradicted(std::vector<port::Alteration>& alterations) const {
  if (contradicted_.empty()) return;
  const auto [first, last] = std::minmax_element(contradicted_.begin(), contradicted_.end());
  std::int64_t agreed = 0;
  for (const std::int64_t sequence : agreed_) {
    if (sequence < *first) agreed = std::max(agreed, sequence);
  }
  alterations.push_back({range(agreed + 1, *last), "checkpoint-contradicted"});
}

LedgerVerdict CheckpointJudging::verdict() const {
  LedgerVerdict verdict{forged_, notes_};
  add_contradicted(verdict.alterations);
  if (furthest_ > last_ && !copy_) verdict.alterations.push_back({range(last_ + 1, furthest_), "cut-off"});
  add_missing(verdict.alterations);
  if (station_reach_.count == 0) {
    verdict.notes.push_back({"ledger.no-checkpoints-outside", {}});
  } else {
    verdict.notes.push_back({"ledger.checkpoints-outside",
                             {{"count", std::to_string(station_reach_.count)},
                              {"entry", std::to_string(station_reach_.newest)},
                              {"at", core::to_text(station_reach_.at)}}});
  }
  // Each such number of entries makes one, unless it could not be written.
  const std::int64_t uncovered = last_ - station_reach_.newest;
  if (station_reach_.count > 0 && uncovered >= core::kEntriesBetweenCheckpoints) {
    verdict.notes.push_back({"ledger.checkpoints-stale", {{"count", std::to_string(uncovered)}}});
  }
  return verdict;
}

}  // namespace loadlight::app
