// What every store promises, checked over each of them:
//
//   TEMPLATE_TEST_CASE("a claim", "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
//     TestType backend;
//     … backend.store …
//   }
#pragma once

#include <catch2/catch.hpp>
#include <memory>
#include <string>
#include <vector>

#include "group_backend.h"
#include "loadlight/port/store.h"
#include "sample_records.h"
#include "temporary_folder.h"

namespace loadlight::store {

// A new, empty record in SQLite. Units wait 50 ms for each other.
struct SqliteBackend final {
  SqliteBackend();

  TemporaryFolder folder;
  std::unique_ptr<port::Store> store;
};

// A new, empty record in memory.
struct MemoryBackend final {
  MemoryBackend();

  std::unique_ptr<port::Store> store;
};

// The value, or a failed test that names the failure.
template <class T>
T must(core::Result<T> result) {
  if (!result) FAIL(core::to_text(result.failure().code) << ": " << result.failure().details.back().second);
  return std::move(*result);
}
inline void must(const core::Result<void>& result) {
  if (!result) FAIL(core::to_text(result.failure().code) << ": " << result.failure().details.back().second);
}

std::unique_ptr<port::Unit> reading(port::Store& store);
std::unique_ptr<port::Unit> writing(port::Store& store);
// Each change in a unit of its own.
void write(port::Store& store, const std::vector<core::Change>& changes);
std::vector<core::LedgerEntry> ledger_of(port::Store& store);

}  // namespace loadlight::store
