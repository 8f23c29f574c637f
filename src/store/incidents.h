// Queries of the incidents.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class Incidents final : public port::IncidentTable {
 public:
  explicit Incidents(SqlSession& session) : session_(session) {}

  core::Result<std::optional<core::Incident>> find(int number) const override;
  core::Result<std::vector<core::Incident>> all() const override;
  core::Result<std::vector<core::Incident>> open_ones() const override;
  core::Result<int> highest_number() const override;

 private:
  SqlSession& session_;
};

class IncidentWork final : public port::IncidentWorkTable {
 public:
  explicit IncidentWork(SqlSession& session) : session_(session) {}

  core::Result<std::vector<core::IncidentStep>> steps_of(int incident) const override;
  core::Result<int> highest_step_number() const override;
  core::Result<std::vector<core::Accounting>> accounted_in(int incident) const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
