#include "loadlight/app/make_checkpoint.h"

#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::Checkpoint;
using core::Result;

core::Failure without_entries() {
  return {core::FailureCode::RecordDamaged, {{"path", "record.db"}, {"why", "the ledger is empty"}}, {}};
}

// Of the ledger's last entry, not signed yet.
Result<Checkpoint> newest_point(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto last = (*unit)->last_entry();
  if (!last) return last.failure();
  const auto hash = (*unit)->ledger_hash(*last);
  if (!hash) return hash.failure();
  const auto office = (*unit)->ledger_hash(1);
  if (!office) return office.failure();
  if (!*hash || !*office) return without_entries();
  return Checkpoint{*last, **hash, ports.clock.now(), **office, std::nullopt, {}, {}};
}

}  // namespace

Result<void> checkpoint_after(port::CheckpointBook& book, core::Instant now, const port::Committed& done) {
  if (!core::asks_for_checkpoint(done.first, done.last, done.kinds) &&
      !core::checkpoint_overdue(book.newest(), now)) {
    return {};
  }
  const auto office = done.hash_of(1);
  if (!office) return office.failure();
  if (!*office) return without_entries();
  const auto kept = book.keep({done.last, done.hash, now, **office, std::nullopt, {}, {}});
  if (!kept) return kept.failure();
  return {};
}

Result<void> checkpoint_restored(port::CheckpointBook& book, const Ports& ports, std::int64_t after) {
  auto point = newest_point(ports);
  if (!point) return point.failure();
  point->restored_after = after;
  const auto kept = book.keep(std::move(*point));
  if (!kept) return kept.failure();
  return {};
}

Result<Checkpoint> take_checkpoint(port::CheckpointBook& book, const Ports& ports,
                                   std::string_view operator_code) {
  const auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  if (const auto written = act->write(core::EventKind::CheckpointMade, "", {}); !written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  auto point = newest_point(ports);
  if (!point) return point.failure();
  return book.keep(std::move(*point));
}

}  // namespace loadlight::app
