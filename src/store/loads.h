// Queries of the loads.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class Loads final : public port::LoadTable {
 public:
  explicit Loads(SqlSession& session) : session_(session) {}

  core::Result<std::optional<core::Load>> find(const core::LoadName& name) const override;
  core::Result<std::vector<core::Load>> newest_of(std::string_view sterilizer, int limit) const override;
  core::Result<int> highest_number(std::string_view sterilizer) const override;
  core::Result<std::optional<core::Load>> first_reserved(std::string_view sterilizer) const override;
  core::Result<std::optional<core::Load>> with_counter(std::string_view sterilizer,
                                                       int counter) const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
