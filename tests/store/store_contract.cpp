#include "store_contract.h"

#include <stdlib.h>

#include <filesystem>
#include <stdexcept>

#include "loadlight/store/record.h"
#include "memory_store.h"

namespace loadlight::store {

namespace {

// In memory where the machine has such a place: hundreds of commits need no disk to be judged.
std::filesystem::path place() {
  std::error_code error;
  const std::filesystem::path memory = "/dev/shm";
  return std::filesystem::is_directory(memory, error) ? memory : std::filesystem::temp_directory_path();
}

}  // namespace

TemporaryFolder::TemporaryFolder() : path_((place() / "loadlight-store-XXXXXX").string()) {
  if (mkdtemp(path_.data()) == nullptr) throw std::runtime_error("no temporary folder");
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code error;
  std::filesystem::remove_all(path_, error);
}

SqliteBackend::SqliteBackend() : store(must(create_record(folder.path(), {std::chrono::milliseconds{50}}))) {}
MemoryBackend::MemoryBackend() : store(std::make_unique<MemoryStore>()) {}

std::unique_ptr<port::Unit> reading(port::Store& store) {
  return must(store.begin(port::Access::Read));
}
std::unique_ptr<port::Unit> writing(port::Store& store) {
  return must(store.begin(port::Access::Write));
}

void write(port::Store& store, const std::vector<core::Change>& changes) {
  for (const auto& change : changes) {
    const auto unit = writing(store);
    must(unit->write(change));
    must(unit->commit());
  }
}

std::vector<core::LedgerEntry> ledger_of(port::Store& store) {
  std::vector<core::LedgerEntry> entries;
  must(store.each_entry([&](const core::LedgerEntry& entry) {
    entries.push_back(entry);
    return true;
  }));
  return entries;
}

}  // namespace loadlight::store
