// A store in memory, for tests: every promise of port::Store but lasting.
//
// Its hashes are running numbers and its bodies name the records without their columns; the contract suite
// (store_contract.h) says what it has in common with the real one.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "loadlight/port/store.h"

namespace loadlight::store {

struct MemoryState;  // what the record holds at one moment
struct MemoryFaults;

// One thread at a time. Units end before their store does.
class MemoryStore final : public port::Store {
 public:
  MemoryStore();
  ~MemoryStore() override;

  // A second writing unit is refused at once with OfficeBusy.
  core::Result<std::unique_ptr<port::Unit>> begin(port::Access access) override;
  core::Result<void> each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) override;
  // Tells of the whole ledger at once.
  core::Result<std::vector<port::Alteration>> verify(
      const std::function<bool(const port::VerifyProgress&)>& goes_on = {}) override;

  // From now on the nth call (from 1) of the store or its units fails, and only that one.
  void break_call(int nth, core::Failure failure);
  // Calls of the store and its units since break_call() or the beginning.
  int calls() const;
  // What verify() is to find.
  void set_alterations(std::vector<port::Alteration> alterations) { alterations_ = std::move(alterations); }

 private:
  std::shared_ptr<const MemoryState> state_;
  std::shared_ptr<MemoryFaults> faults_;
  std::shared_ptr<bool> writing_;
  std::vector<port::Alteration> alterations_;
};

}  // namespace loadlight::store
