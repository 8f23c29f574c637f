#include "loadlight/app/suspect_pages.h"

#include "app/suspects.h"
#include "loadlight/app/package_reference.h"

namespace loadlight::app {
namespace {

using core::Result;

// Keeps those that belong on the page and counts all.
template <class Entry>
void take(const Entry& entry, const PageWish& page, std::vector<Entry>& kept, int& total) {
  const int number = total++;
  if (number >= page.first && number < page.first + page.most) kept.push_back(entry);
}

bool is_asked_for(const Suspect& suspect, const SuspectQuery& query) {
  if (query.unaccounted_only && suspect.disposition) return false;
  return !query.location || suspect.package.location.value_or("") == *query.location;
}

}  // namespace

Result<SuspectPage> suspects_of(const Ports& ports, const SuspectQuery& query) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto range = range_of(**unit, query.incident);
  if (!range) return range.failure();
  SuspectPage page;
  const auto visited = visit_suspects(**unit, *range, [&](const Suspect& suspect) {
    if (is_asked_for(suspect, query)) take(suspect, query.page, page.suspects, page.total);
  });
  if (!visited) return visited.failure();
  return page;
}

Result<Suspect> find_suspect(const Ports& ports, int incident, const std::string& package) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto range = range_of(**unit, incident);
  if (!range) return range.failure();
  const auto found = suspect_package(ports, **unit, range->incident, package);
  if (!found) return found.failure();
  return suspect_of(*range, *found);
}

Result<ClearPage> earlier_clears_of(const Ports& ports, int incident, const PageWish& wish) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto range = range_of(**unit, incident);
  if (!range) return range.failure();
  ClearPage page;
  Result<void> looked;
  const auto visited = visit_suspects(**unit, *range, [&](const Suspect& suspect) {
    if (!looked) return;
    looked = visit_earlier_clears(**unit, *range, suspect.package.id,
                                  [&](const EarlierClear& clear) { take(clear, wish, page.clears, page.total); });
  });
  if (!visited) return visited.failure();
  if (!looked) return looked.failure();
  return page;
}

}  // namespace loadlight::app
