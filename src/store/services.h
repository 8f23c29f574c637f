// Queries of the sterilizers' service logs.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class Services final : public port::ServiceTable {
 public:
  explicit Services(SqlSession& session) : session_(session) {}

  core::Result<std::vector<core::ServiceEntry>> of_sterilizer(std::string_view code) const override;
  core::Result<int> highest_number() const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
