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
  core::Result<int> highest_run(std::string_view sterilizer) const override;
  core::Result<std::vector<core::Load>> of_runs(const port::RunRange& runs) const override;
  core::Result<std::vector<core::Load>> of_day(std::string_view sterilizer,
                                               core::CivilDate day) const override;
  core::Result<void> of_days(core::CivilDate first, core::CivilDate last,
                             const std::function<void(const core::Load&)>& visit) const override;
  core::Result<std::vector<core::Load>> of_purpose_before(std::string_view sterilizer,
                                                          core::LoadPurpose purpose, int run,
                                                          int limit) const override;
  core::Result<std::vector<core::Load>> in_state(core::LoadState state) const override;
  core::Result<std::vector<core::Load>> released_as_emergency() const override;
  core::Result<std::vector<core::Load>> search(const port::LoadSearch& search,
                                               port::SearchPage page) const override;
  core::Result<std::vector<core::Load>> retests_of(int incident) const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
