#include "verified_copy.h"

#include "loadlight/app/verify_ledger.h"

namespace loadlight::app {

using core::Result;

core::Failure record_altered(const std::string& place, const std::vector<port::Alteration>& found) {
  return {core::FailureCode::RecordAltered,
          {{"path", place}, {"count", std::to_string(found.size())}, {"where", found.front().where}},
          {}};
}

Result<RecordEnd> end_of(port::Store& store) {
  const auto unit = store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto last = (*unit)->last_entry();
  if (!last) return last.failure();
  const auto hash = (*unit)->ledger_hash(*last);
  if (!hash) return hash.failure();
  const auto office = (*unit)->ledger_hash(1);
  if (!office) return office.failure();
  const auto newest = (*unit)->newest_event();
  if (!newest) return newest.failure();
  return RecordEnd{*last, hash->value_or(""), office->value_or(""), *newest};
}

Result<VerifiedCopy> verified_copy(const World& world, const std::string& folder) {
  auto leaves = world.open_copy(folder);
  if (!leaves) return leaves.failure();
  auto office = dress_office(world, std::move(*leaves));
  if (!office) return office.failure();
  VerifyRequest request;
  request.copy = true;
  const auto book = world.open_checkpoints(folder);
  const auto verdict = verify_ledger((*office)->ports.store, *book, request);
  if (!verdict) return verdict.failure();
  if (!verdict->alterations.empty()) return record_altered(folder, verdict->alterations);
  auto end = end_of((*office)->ports.store);
  if (!end) return end.failure();
  return VerifiedCopy{std::move(*office), std::move(*end)};
}

}  // namespace loadlight::app
