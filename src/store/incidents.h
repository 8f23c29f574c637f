// Queries of the incidents.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class Incidents final : public port::IncidentTable {
 public:
  explicit Incidents(SqlSession& session) : session_(session) {}

  core::Result<std::vector<core::Incident>> open_ones() const override;
  core::Result<int> highest_number() const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
