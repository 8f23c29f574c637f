#include "loadlight/app/verify_ledger.h"

#include <set>

#include "checkpoint_judging.h"

namespace loadlight::app {
namespace {

using core::Result;
using port::CheckpointList;

// Which offices' checkpoints the station is asked for: this record's, and those that its folder's file names, for
// whoever rewrote the record from its first entry on made another office of it.
std::set<std::string> offices_named(const std::string& office, const CheckpointList& in_office) {
  std::set<std::string> offices{office};
  for (const auto& kept : in_office.kept) {
    if (kept.genuine) offices.insert(kept.checkpoint.office);
  }
  offices.erase("");
  return offices;
}

// The station's before the office's, where each comes to stand first: others may be at work.
Result<std::vector<WitnessList>> witnesses(const port::CheckpointBook& book, const std::string& office,
                                           const VerifyRequest& request) {
  const auto names = book.of_office();
  if (!names) return names.failure();
  std::vector<WitnessList> heard;
  for (const std::string& named : offices_named(office, *names)) {
    auto in_station = book.of_station(named);
    if (!in_station) return in_station.failure();
    heard.push_back({Witness::Station, std::move(*in_station)});
  }
  auto in_office = book.of_office();
  if (!in_office) return in_office.failure();
  heard.push_back({Witness::Office, std::move(*in_office)});
  for (const GivenCheckpoints& given : request.given) {
    heard.push_back({Witness::Given, book.parse(given.path, given.text)});
  }
  return heard;
}

// A checkpoint that was kept elsewhere on purpose and holds none is told: it vouches for nothing.
void note_empty(const std::vector<WitnessList>& heard, LedgerVerdict& verdict) {
  for (const auto& [witness, list] : heard) {
    if (witness == Witness::Given && list.kept.empty()) {
      verdict.notes.push_back({"ledger.no-checkpoint-in", {{"path", list.path}}});
    }
  }
}

Result<std::string> office_of(port::Store& store) {
  const auto unit = store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (*unit)->ledger_hash(1);
  if (!office) return office.failure();
  return office->value_or("");
}

// The ledger is looked at after the checkpoints: it cannot be behind one that was made meanwhile.
Result<LedgerVerdict> weigh(port::Store& store, const std::string& office, const std::vector<WitnessList>& heard,
                            bool copy) {
  const auto unit = store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto last = (*unit)->last_entry();
  if (!last) return last.failure();
  CheckpointJudging judging{**unit, office, *last, copy};
  for (const WitnessList& list : heard) {
    if (const auto ok = judging.hear(list); !ok) return ok.failure();
  }
  return judging.verdict();
}

Result<LedgerVerdict> judge_checkpoints(port::Store& store, const port::CheckpointBook& book,
                                        const VerifyRequest& request) {
  const auto office = office_of(store);
  if (!office) return office.failure();
  const auto heard = witnesses(book, *office, request);
  if (!heard) return heard.failure();
  auto judged = weigh(store, *office, *heard, request.copy);
  if (!judged) return judged.failure();
  LedgerVerdict verdict = std::move(*judged);
  note_empty(*heard, verdict);
  if (request.copy) return verdict;
  const auto others = book.others_here(*office);
  if (!others) return others.failure();
  if (!others->empty()) verdict.alterations.push_back({"record.db", "office-replaced"});
  return verdict;
}

}  // namespace

Result<LedgerVerdict> verify_ledger(port::Store& store, const port::CheckpointBook& book,
                                    const VerifyRequest& request) {
  auto altered = store.verify(request.goes_on);
  if (!altered) return altered.failure();
  auto verdict = judge_checkpoints(store, book, request);
  // What is altered is known all the same.
  if (!verdict && !altered->empty()) return LedgerVerdict{std::move(*altered), {{"ledger.checkpoints-unheard", {}}}};
  if (!verdict) return verdict.failure();
  verdict->alterations.insert(verdict->alterations.begin(), altered->begin(), altered->end());
  return verdict;
}

}  // namespace loadlight::app
