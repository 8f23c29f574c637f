// A unit of work over one session: the record's queries, and changes that happen together or not at all.
#pragma once

#include <functional>
#include <memory>
#include <optional>

#include "code_table.h"
#include "evidence.h"
#include "incidents.h"
#include "loads.h"
#include "packages.h"
#include "print_runs.h"
#include "services.h"
#include "session_pool.h"
#include "sql_transaction.h"
#include "writing_turns.h"

namespace loadlight::store {

class SqlUnit final : public port::Unit {
 public:
  // Told of what a commit made durable; lives as long as the store, and may be empty.
  using Told = std::function<void(const port::Committed&)>;

  static core::Result<std::unique_ptr<port::Unit>> begin(SessionPool::Lent session, port::Access access,
                                                         std::optional<WritingTurns::Turn> turn, const Told& told);

  core::Result<core::Office> office() const override;
  const port::Table<core::Operator>& operators() const override { return operators_; }
  const port::Table<core::Sterilizer>& sterilizers() const override { return sterilizers_; }
  const port::Table<core::Contents>& contents() const override { return contents_; }
  const port::Table<core::PackageKind>& kinds() const override { return kinds_; }
  const port::Table<core::Location>& locations() const override { return locations_; }
  const port::Table<core::LabelStock>& stocks() const override { return stocks_; }
  const port::PackageTable& packages() const override { return packages_; }
  const port::LoadTable& loads() const override { return loads_; }
  const port::EvidenceTable& evidence() const override { return evidence_; }
  const port::IncidentTable& incidents() const override { return incidents_; }
  const port::PrintRunTable& print_runs() const override { return print_runs_; }
  const port::Table<core::OfficeProgram>& programs() const override { return programs_; }
  const port::Table<core::Consumable>& consumables() const override { return consumables_; }
  const port::Table<core::OfficeSetting>& settings() const override { return settings_; }
  const port::IncidentWorkTable& incident_work() const override { return incident_work_; }
  const port::ServiceTable& services() const override { return services_; }
  core::Result<std::vector<port::PastEvent>> events_about(std::string_view subject,
                                                          core::EventKind kind) const override;
  core::Result<std::vector<port::FoundEvent>> find_events(const port::LedgerSearch& search) const override;
  core::Result<std::optional<core::Instant>> newest_event() const override;
  core::Result<std::optional<std::string>> ledger_hash(std::int64_t sequence) const override;
  core::Result<std::int64_t> last_entry() const override;
  core::Result<void> write(const core::Change& change) override;
  core::Result<void> commit() override;

 private:
  SqlUnit(SessionPool::Lent session, SqlTransaction transaction, port::Access access,
          std::optional<core::Instant> newest, std::optional<WritingTurns::Turn> turn, const Told& told);
  core::Result<void> apply(const core::Change& change);
  void tell() const;

  std::optional<WritingTurns::Turn> turn_;  // of a unit that writes; goes last
  SessionPool::Lent session_;
  SqlTransaction transaction_;  // rolls back before the session goes
  port::Access access_;
  // Of all chains, read before the transaction: within it, a look at what other stations are writing would make
  // the server doubt both.
  std::optional<core::Instant> newest_before_;
  const Told& told_;
  port::Committed added_;                // by this unit
  std::optional<core::Failure> broken_;  // a write failed: nothing of this unit may happen

  CodeTable<core::Operator> operators_;
  CodeTable<core::Sterilizer> sterilizers_;
  CodeTable<core::Contents> contents_;
  CodeTable<core::PackageKind> kinds_;
  CodeTable<core::Location> locations_;
  CodeTable<core::LabelStock> stocks_;
  Packages packages_;
  Loads loads_;
  Evidence evidence_;
  Incidents incidents_;
  PrintRuns print_runs_;
  CodeTable<core::OfficeProgram> programs_;
  CodeTable<core::Consumable> consumables_;
  CodeTable<core::OfficeSetting> settings_;
  IncidentWork incident_work_;
  Services services_;
};

}  // namespace loadlight::store
