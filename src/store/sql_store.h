// The office's record in a database.
#pragma once

#include <chrono>
#include <memory>
#include <utility>

#include "loadlight/port/store.h"
#include "session_pool.h"
#include "sql_unit.h"
#include "writing_turns.h"

namespace loadlight::store {

// Thread-safe.
class SqlStore final : public port::Store {
 public:
  // `patience`: how long a unit waits for those of this store that write before it, before OfficeBusy.
  SqlStore(std::shared_ptr<SessionPool> pool, std::chrono::milliseconds patience, SqlUnit::Told told)
      : pool_(std::move(pool)), patience_(patience), told_(std::move(told)) {}

  core::Result<std::unique_ptr<port::Unit>> begin(port::Access access) override;
  core::Result<void> each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) override;
  core::Result<std::vector<port::Alteration>> verify(
      const std::function<bool(const port::VerifyProgress&)>& goes_on) override;

 private:
  core::Result<std::unique_ptr<port::Unit>> begin_once(port::Access access);

  std::shared_ptr<SessionPool> pool_;
  const std::shared_ptr<WritingTurns> turns_ = std::make_shared<WritingTurns>();
  const std::chrono::milliseconds patience_;
  const SqlUnit::Told told_;
};

}  // namespace loadlight::store
