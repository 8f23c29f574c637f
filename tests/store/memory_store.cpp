#include "memory_store.h"

#include <algorithm>
#include <cstdio>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <utility>

#include "memory_state.h"
#include "memory_tables.h"

namespace loadlight::store {
namespace {

core::Failure failure(core::FailureCode code, std::string why) {
  return {code, {{"why", std::move(why)}}, {}};
}

std::string running_number(std::int64_t number) {
  std::string digits = std::to_string(number);
  return std::string(64 - digits.size(), '0') + digits;
}

std::string quoted(std::string_view text) {
  std::string json = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') json.push_back('\\');
    json.push_back(c);
  }
  return json + "\"";
}

std::string body_of(const core::Change& change) {
  std::string body = "{\"details\":{";
  const char* separator = "";
  for (const auto& [key, value] : change.details) {
    body.append(separator).append(quoted(key)).append(":").append(quoted(value));
    separator = ",";
  }
  return body + "},\"records\":" + std::to_string(change.records.size()) + "}";
}

// Everything in a change that may name a package.
std::string texts_of(const core::Change& change) {
  std::string texts = change.subject;
  for (const auto& [key, value] : change.details) texts += " " + value;
  for (const core::Record& record : change.records) {
    if (const auto* package = std::get_if<core::Package>(&record)) texts += " " + package->id.text();
    if (const auto* row = std::get_if<core::Accounting>(&record)) texts += " " + row->package.text();
  }
  return texts;
}

void append_entry(MemoryState& state, const core::Change& change) {
  const auto sequence = static_cast<std::int64_t>(state.entries.size()) + 1;
  state.entries.push_back({sequence, change.at, change.operator_code, std::string{core::to_text(change.kind)},
                           change.subject, body_of(change), running_number(sequence - 1),
                           running_number(sequence)});
  state.changes.push_back({change.kind, change.at, change.operator_code, change.subject, change.details, {}});
  state.named.push_back(texts_of(change));
  const bool corrects = change.kind == core::EventKind::ClockCorrected || !state.newest_at;
  state.newest_at = corrects ? change.at : std::max(*state.newest_at, change.at);
}

// A unit works on a copy, and puts it in the record's place at its commit.
class MemoryUnit final : public port::Unit {
 public:
  MemoryUnit(std::shared_ptr<const MemoryState>& record, std::shared_ptr<MemoryFaults> faults,
             std::shared_ptr<bool> writing)
      : record_(record),
        faults_(std::move(faults)),
        writing_(std::move(writing)),
        state_(*record),
        tables_(state_, *faults_) {}
  ~MemoryUnit() override {
    if (writing_) *writing_ = false;
  }

  core::Result<core::Office> office() const override {
    if (const auto fault = faults_->strike()) return *fault;
    if (!state_.office) return failure(core::FailureCode::RecordDamaged, "the record has no office");
    return *state_.office;
  }
  const port::Table<core::Operator>& operators() const override { return tables_.operators; }
  const port::Table<core::Sterilizer>& sterilizers() const override { return tables_.sterilizers; }
  const port::Table<core::Contents>& contents() const override { return tables_.contents; }
  const port::Table<core::PackageKind>& kinds() const override { return tables_.kinds; }
  const port::Table<core::Location>& locations() const override { return tables_.locations; }
  const port::Table<core::LabelStock>& stocks() const override { return tables_.stocks; }
  const port::PackageTable& packages() const override { return tables_.packages; }
  const port::LoadTable& loads() const override { return tables_.loads; }
  const port::EvidenceTable& evidence() const override { return tables_.evidence; }
  const port::IncidentTable& incidents() const override { return tables_.incidents; }
  const port::PrintRunTable& print_runs() const override { return tables_.print_runs; }
  const port::Table<core::OfficeProgram>& programs() const override { return tables_.programs; }
  const port::Table<core::Consumable>& consumables() const override { return tables_.consumables; }
  const port::Table<core::OfficeSetting>& settings() const override { return tables_.settings; }
  const port::IncidentWorkTable& incident_work() const override { return tables_.incident_work; }
  const port::ServiceTable& services() const override { return tables_.services; }

  core::Result<std::vector<port::PastEvent>> events_about(std::string_view subject,
                                                          core::EventKind kind) const override {
    if (const auto fault = faults_->strike()) return *fault;
    std::vector<port::PastEvent> events;
    for (const core::Change& change : state_.changes) {
      if (change.subject != subject || change.kind != kind) continue;
      events.push_back({change.at, change.operator_code, change.details});
    }
    return events;
  }

  core::Result<std::optional<std::string>> ledger_hash(std::int64_t sequence) const override {
    if (const auto fault = faults_->strike()) return *fault;
    const auto count = static_cast<std::int64_t>(state_.entries.size());
    if (sequence < 1 || sequence > count) return std::optional<std::string>{};
    return std::optional{state_.entries[static_cast<std::size_t>(sequence) - 1].hash};
  }

  core::Result<std::int64_t> last_entry() const override {
    if (const auto fault = faults_->strike()) return *fault;
    return static_cast<std::int64_t>(state_.entries.size());
  }

  core::Result<std::vector<port::FoundEvent>> find_events(const port::LedgerSearch& search) const override {
    if (const auto fault = faults_->strike()) return *fault;
    std::vector<port::FoundEvent> events;
    for (std::size_t i = 0; i < state_.changes.size(); ++i) {
      const core::Change& change = state_.changes[i];
      const bool fits = (!search.subject || *search.subject == change.subject) &&
                        (!search.kind || *search.kind == change.kind) &&
                        (!search.package || state_.named[i].find(search.package->text()) != std::string::npos);
      if (!fits) continue;
      events.push_back({static_cast<std::int64_t>(i) + 1, change.kind, change.at, change.operator_code,
                        change.subject, change.details});
    }
    return events;
  }

  core::Result<std::optional<core::Instant>> newest_event() const override {
    if (const auto fault = faults_->strike()) return *fault;
    return state_.newest_at;
  }

  core::Result<void> write(const core::Change& change) override {
    if (!writing_) return failure(core::FailureCode::Internal, "this unit only reads");
    if (ended_) return failure(core::FailureCode::Internal, "this unit has ended");
    if (broken_) return *broken_;
    broken_ = faults_->strike();
    if (broken_) return *broken_;
    for (const core::Record& record : change.records) state_.keep(record);
    append_entry(state_, change);
    return {};
  }

  core::Result<void> commit() override {
    if (ended_) return failure(core::FailureCode::Internal, "this unit has ended");
    ended_ = true;
    if (broken_) return *broken_;
    if (const auto fault = faults_->strike()) return *fault;
    if (const auto dangling = state_.dangling_reference()) {
      return failure(core::FailureCode::Internal, "no such " + *dangling);
    }
    if (writing_) record_ = std::make_shared<const MemoryState>(state_);
    return {};
  }

 private:
  std::shared_ptr<const MemoryState>& record_;
  std::shared_ptr<MemoryFaults> faults_;
  std::shared_ptr<bool> writing_;  // null in a reading unit
  MemoryState state_;
  MemoryTables tables_;
  bool ended_ = false;
  std::optional<core::Failure> broken_;
};

}  // namespace

MemoryStore::MemoryStore()
    : state_(std::make_shared<const MemoryState>()),
      faults_(std::make_shared<MemoryFaults>()),
      writing_(std::make_shared<bool>(false)) {}

MemoryStore::~MemoryStore() = default;

core::Result<std::unique_ptr<port::Unit>> MemoryStore::begin(port::Access access) {
  if (const auto fault = faults_->strike()) return *fault;
  if (access == port::Access::Read) {
    return std::unique_ptr<port::Unit>{std::make_unique<MemoryUnit>(state_, faults_, nullptr)};
  }
  if (*writing_) return failure(core::FailureCode::OfficeBusy, "another unit is writing");
  *writing_ = true;
  return std::unique_ptr<port::Unit>{std::make_unique<MemoryUnit>(state_, faults_, writing_)};
}

core::Result<void> MemoryStore::each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) {
  if (const auto fault = faults_->strike()) return *fault;
  const auto state = state_;
  for (const auto& entry : state->entries) {
    if (!visit(entry)) break;
  }
  return {};
}

core::Result<std::vector<port::Alteration>> MemoryStore::verify(
    const std::function<bool(const port::VerifyProgress&)>& goes_on) {
  if (const auto fault = faults_->strike()) return *fault;
  const auto entries = static_cast<std::int64_t>(state_->entries.size());
  if (goes_on && !goes_on({false, entries, entries})) return core::Failure{core::FailureCode::Stopped, {}, {}};
  return alterations_;
}

void MemoryStore::break_call(int nth, core::Failure broken) {
  *faults_ = {nth, 0, std::move(broken)};
}
int MemoryStore::calls() const {
  return faults_->calls;
}

}  // namespace loadlight::store
