// Port: the office's record. Two implementations: SQLite (store) and, in tests, memory.
//
// All work happens in a unit: it sees one state of the record, and its changes happen all together at
// commit() or not at all. A unit that is destroyed uncommitted changed nothing.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/events.h"
#include "loadlight/core/result.h"
#include "loadlight/port/tables.h"

namespace loadlight::port {

// An event of the ledger, read back.
struct PastEvent final {
  core::Instant at{};
  std::string operator_code;
  core::Details details;
};

// Which events of the ledger are wanted: every part that is given must fit.
struct LedgerSearch final {
  std::optional<std::string> subject{};      // none: about anything; then the whole ledger is walked
  std::optional<core::EventKind> kind{};     // none: of every kind
  std::optional<core::PackageId> package{};  // in whose subject, details or records its id stands
};

struct FoundEvent final {
  std::int64_t sequence = 0;
  core::EventKind kind = core::EventKind::PackageChecked;
  core::Instant at{};
  std::string operator_code;
  std::string subject;
  core::Details details;
};

class Unit {
 public:
  virtual ~Unit() = default;

  virtual core::Result<core::Office> office() const = 0;
  virtual const Table<core::Operator>& operators() const = 0;
  virtual const Table<core::Sterilizer>& sterilizers() const = 0;
  virtual const Table<core::Contents>& contents() const = 0;
  virtual const Table<core::PackageKind>& kinds() const = 0;
  virtual const Table<core::Location>& locations() const = 0;
  virtual const Table<core::LabelStock>& stocks() const = 0;
  virtual const PackageTable& packages() const = 0;
  virtual const LoadTable& loads() const = 0;
  virtual const EvidenceTable& evidence() const = 0;
  virtual const IncidentTable& incidents() const = 0;
  virtual const PrintRunTable& print_runs() const = 0;
  virtual const Table<core::OfficeProgram>& programs() const = 0;
  virtual const Table<core::Consumable>& consumables() const = 0;  // by lot
  virtual const Table<core::OfficeSetting>& settings() const = 0;  // by name
  virtual const IncidentWorkTable& incident_work() const = 0;
  virtual const ServiceTable& services() const = 0;
  // Events of one kind about one subject, oldest first.
  virtual core::Result<std::vector<PastEvent>> events_about(std::string_view subject,
                                                            core::EventKind kind) const = 0;
  // In the order in which they were written.
  virtual core::Result<std::vector<FoundEvent>> find_events(const LedgerSearch& search) const = 0;

  // The latest time any event since the last clock correction carries (that correction included);
  // nothing in an empty record.
  virtual core::Result<std::optional<core::Instant>> newest_event() const = 0;

  // The hash of a ledger entry; nothing where there is none.
  virtual core::Result<std::optional<std::string>> ledger_hash(std::int64_t sequence) const = 0;
  // The last entry's sequence; 0 in an empty record.
  virtual core::Result<std::int64_t> last_entry() const = 0;

  // Adds one event and its records to this unit. Later reads of the unit see them.
  virtual core::Result<void> write(const core::Change& change) = 0;
  // Makes every change of the unit durable. A unit is committed at most once; after a failure nothing
  // of it happened, but for CommitUnknown: then nobody can tell, and it is not to be done again unseen.
  virtual core::Result<void> commit() = 0;
};

// What a unit made durable: the entries that it added to the ledger.
struct Committed final {
  std::int64_t first = 0;
  std::int64_t last = 0;
  std::string hash;  // of the last
  std::vector<core::EventKind> kinds;
  std::function<core::Result<std::optional<std::string>>(std::int64_t sequence)> hash_of;  // of any entry
};

enum class Access {
  Read,   // write() fails
  Write,  // holds the record's write lock from the beginning, waiting a while for it
};

// Something that verification found altered.
struct Alteration final {
  std::string where;  // "ledger 17", "package 8Q4T0ZK3MW"
  std::string what;   // a code of the words catalogue: "alteration.<what>"
};

// How far a verification has come: first the ledger's entries are walked, then the tables' rows compared.
struct VerifyProgress final {
  bool in_tables = false;
  std::int64_t done = 0;
  std::int64_t all = 0;
};

class Store {
 public:
  virtual ~Store() = default;

  virtual core::Result<std::unique_ptr<Unit>> begin(Access access) = 0;
  // Every ledger entry in order; `visit` may say false to stop. Memory stays bounded.
  virtual core::Result<void> each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) = 0;
  // Walks the hash chain and replays every event against the tables; empty when the record is whole. `goes_on`
  // is asked every now and then, and stops it by saying no: Stopped.
  virtual core::Result<std::vector<Alteration>> verify(
      const std::function<bool(const VerifyProgress&)>& goes_on = {}) = 0;
};

}  // namespace loadlight::port
