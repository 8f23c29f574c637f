// Queries of the packages.
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class Packages final : public port::PackageTable {
 public:
  explicit Packages(SqlSession& session) : session_(session) {}

  core::Result<std::optional<core::Package>> find(const core::PackageId& id) const override;
  core::Result<std::vector<core::Package>> of_load(const core::LoadName& load) const override;
  core::Result<std::vector<core::Package>> of_print_run(int number) const override;
  core::Result<std::optional<core::Package>> oldest_ready(std::string_view contents, std::string_view kind,
                                                          core::CivilDate today) const override;
  core::Result<void> of_runs(const port::RunRange& runs,
                             const std::function<void(const core::Package&)>& visit) const override;
  core::Result<std::vector<core::Package>> use_by_until(core::CivilDate last, int limit) const override;
  core::Result<std::vector<core::Package>> at_location(std::string_view code) const override;
  core::Result<std::vector<core::Package>> replaced_by(const core::PackageId& id) const override;
  core::Result<std::vector<core::Package>> search(const port::PackageSearch& search,
                                                  port::SearchPage page) const override;
  core::Result<void> each(const std::function<void(const core::Package&)>& visit) const override;

 private:
  SqlSession& session_;
};

}  // namespace loadlight::store
