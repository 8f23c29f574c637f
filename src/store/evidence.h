// Queries of the chemical and biological evidence.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class Evidence final : public port::EvidenceTable {
 public:
  explicit Evidence(SqlSession& session) : session_(session) {}

  core::Result<std::vector<core::IndicatorReading>> indicators_of(const core::LoadName& load) const override;
  core::Result<std::vector<core::BiologicalReading>> biologicals_of(
      const core::LoadName& load) const override;
  core::Result<int> highest_indicator_number() const override;
  core::Result<int> highest_biological_number() const override;
  core::Result<std::vector<core::BiologicalRun>> runs_of(const core::LoadName& load) const override;
  core::Result<std::optional<core::BiologicalRun>> find_run(int number) const override;
  core::Result<std::vector<core::BiologicalRun>> open_runs() const override;
  core::Result<int> highest_run_number() const override;
  core::Result<std::vector<core::BiologicalReading>> biologicals_of_sterilizer(
      std::string_view sterilizer) const override;
  core::Result<int> newest_tested_before(std::string_view sterilizer, int load) const override;
  core::Result<std::vector<core::LoadName>> loads_of_lot(std::string_view lot) const override;
  core::Result<std::optional<core::CycleLog>> find_log(int number) const override;
  core::Result<int> highest_log_number() const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
