// Queries of the print runs.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class PrintRuns final : public port::PrintRunTable {
 public:
  explicit PrintRuns(SqlSession& session) : session_(session) {}

  core::Result<std::optional<core::PrintRun>> find(int number) const override;
  core::Result<int> highest_number() const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
