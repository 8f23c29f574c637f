#include "bench/filled_group.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <random>

#include "app/hand_fakes.h"
#include "bench/released_load.h"
#include "loadlight/app/incidents.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/store/group_record.h"
#include "loadlight/store/record.h"
#include "loadlight/system/clock.h"
#include "store/postgres_session.h"
#include "store/sqlite_session.h"

namespace loadlight::bench {
namespace {

using core::LoadName;

constexpr int kLoadsPerUnit = 100;
constexpr int kLoadsPerIndicator = 30;  // a week
constexpr std::chrono::seconds kPatience{60};
constexpr std::string_view kRows = "CREATE TABLE IF NOT EXISTS bench_rows (body TEXT)";  // for bare commits

[[noreturn]] void give_up(const core::Failure& failure) {
  std::fprintf(stderr, "record_bench: %s", std::string{core::to_text(failure.code)}.c_str());
  for (const auto& [name, value] : failure.details) std::fprintf(stderr, " %s=%s", name.c_str(), value.c_str());
  std::fputs("\n", stderr);
  std::exit(1);
}
template <class T>
T must(core::Result<T> result) {
  if (!result) give_up(result.failure());
  return std::move(*result);
}
void must(core::Result<void> result) {
  if (!result) give_up(result.failure());
}

class FolderGroup final : public Group {
 public:
  explicit FolderGroup(std::string folder) : folder_(std::move(folder)) {}
  void make(int office) override {
    std::filesystem::create_directories(folder(office));
    if (!std::filesystem::exists(folder(office) + "/record.db")) must(store::create_record(folder(office)));
    must(bare(office)->run(kRows));
  }
  std::unique_ptr<port::Store> open(int office) override { return must(store::open_record(folder(office))); }
  std::unique_ptr<store::SqlSession> bare(int office) override {
    return must(store::SqliteSession::open(folder(office) + "/record.db", kPatience));
  }

 private:
  std::string folder(int office) const { return folder_ + "/office_" + std::to_string(office); }
  std::string folder_;
};

// postgresql://admin@rest: the same with another role.
std::string with_role(const std::string& address, const std::string& role) {
  const std::size_t begin = address.find("://") + 3;
  return address.substr(0, begin) + role + address.substr(address.find('@', begin));
}

class DatabaseGroup final : public Group {
 public:
  explicit DatabaseGroup(std::string admin) : admin_(std::move(admin)) {
    must(store::prepare_group(admin_));
    const auto session = must(store::PostgresSession::open(admin_, kPatience));
    must(session->run(kRows));
    must(session->run("GRANT INSERT ON bench_rows TO loadlight_station"));
  }
  void make(int office) override {
    const auto session = must(store::PostgresSession::open(admin_, kPatience));
    const auto there = must(session->first_row("SELECT 1 FROM pg_roles WHERE rolname = $1", {role(office)}));
    if (!there) must(session->run("CREATE ROLE " + role(office) + " LOGIN IN ROLE loadlight_station"));
    must(store::admit_office(admin_, role(office), role(office)));
  }
  std::unique_ptr<port::Store> open(int office) override {
    return must(store::open_group_record(with_role(admin_, role(office)), {.station = "BENCH", .patience = kPatience}));
  }
  std::unique_ptr<store::SqlSession> bare(int office) override {
    return must(store::PostgresSession::open(with_role(admin_, role(office)), kPatience));
  }

 private:
  static std::string role(int office) { return "office_" + std::to_string(office); }
  std::string admin_;
};

void make_tables(const app::Ports& ports) {
  using app::OfficeTable;
  must(app::make_office(ports, {"Bench", "UTC", "us-cdc-2003", "en", 180}));
  must(app::add_entries(ports, "MB", OfficeTable::Operators, {{{"code", "MB"}, {"name", "M"}}}));
  for (const char* code : {"S1", "S2"}) {
    must(app::add_entries(ports, "MB", OfficeTable::Sterilizers,
                          {{{"code", code}, {"name", "S"}, {"removal", "dynamic"}, {"type", "B"}}}));
  }
  must(app::add_entries(ports, "MB", OfficeTable::Contents, {{{"code", "EXAM"}, {"name", "Exam set"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Kinds, {{{"code", "P"}, {"name", "Pouch"}, {"wrapping", "pouch"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Locations, {{{"code", "CAB1"}, {"name", "Cabinet"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Stocks,
                        {{{"code", "SHEET"}, {"name", "Film sheets"}, {"method", "laser"}, {"dpi", "600"},
                          {"rating", "trial"}, {"rating_note", "bench"}}}));
}

int print_run_of(const LoadName& load) {
  return 2 * load.number + (load.sterilizer == "S2" ? 1 : 0);
}

core::Package make_package(const app::Ports& ports, int office, const LoadName& load, core::CivilDate day, int cell) {
  const int number = (load.number - 1) * kPackagesPerLoad + cell;
  const core::LabelFields fields{package_id(office, load.sterilizer[1], number), load, day, day.plus_days(180), "MB", "EXAM", "P"};
  std::string payload = core::unsigned_payload(core::LabelForm::Package, fields);
  payload += ports.keyring.mac(payload);
  core::Package package{fields.package, load, day, fields.use_by, "MB", "EXAM", "P", payload};
  package.symbol = {5, core::ErrorCorrection::Q, 0};
  package.print_run = print_run_of(load);
  package.cell = cell;
  package.printed_at = ports.clock.now();
  const bool on_shelf = load.sterilizer == "S1" && load.number <= kShelfLoads;
  package.state = on_shelf || load.sterilizer == "S2" ? core::PackageState::Loaded : core::PackageState::Opened;
  if (on_shelf) package.location = "CAB1";
  if (package.state == core::PackageState::Opened) {
    package.opened_at = ports.clock.now();
    package.visit = visit_of(load.number);
  }
  return package;
}

// Spores did not grow. The incident's own two come before.
core::BiologicalReading make_reading(const LoadName& name, core::Instant at) {
  core::BiologicalReading reading;
  reading.number = name.number + 10;
  reading.load = name;
  reading.lot = reading.control_lot = "B1";
  reading.test = core::BiologicalTest::NoGrowth;
  reading.control = core::BiologicalControl::Growth;
  reading.read_by = "MB";
  reading.read_at = at;
  return reading;
}

void write_load(const app::Ports& ports, port::Unit& unit, int office, const LoadName& name) {
  const core::CivilDate day = ports.zone.local_date(ports.clock.now()).plus_days(-20);
  core::Change change;
  change.kind = core::EventKind::LoadReleased;
  change.at = ports.clock.now();
  change.operator_code = "MB";
  change.subject = name.text();
  change.records = {bench::released_load(name, day, ports.clock.now()),
                    core::PrintRun{print_run_of(name), "a4-24", "SHEET", 600, 1, 0, 0, change.at}};
  if (name.sterilizer == "S1" && name.number % kLoadsPerIndicator == 1) change.records.emplace_back(make_reading(name, change.at));
  for (int cell = 1; cell <= kPackagesPerLoad; ++cell) {
    change.records.emplace_back(make_package(ports, office, name, day, cell));
  }
  must(unit.write(change));
}

void write_loads(const app::Ports& ports, int office, const std::string& sterilizer, int first, int last) {
  const auto unit = must(ports.store.begin(port::Access::Write));
  for (int number = first; number <= last; ++number) write_load(ports, *unit, office, {sterilizer, number});
  must(unit->commit());
}

void make_incident(const app::Ports& ports, int office) {
  write_loads(ports, office, "S2", 1, 5);
  const auto result = [&](int number, core::BiologicalTest test) {
    must(app::record_biological(ports, {"MB", {"S2", number}, "B1", test, core::BiologicalControl::Growth, "B1", {}, {}, "", ""}));
  };
  result(1, core::BiologicalTest::NoGrowth);
  result(4, core::BiologicalTest::Growth);
}

bool is_empty(port::Store& record) {
  bool empty = true;
  must(record.each_entry([&empty](const core::LedgerEntry&) { return empty = false; }));
  return empty;
}

int highest_load(port::Store& record) {
  return must(must(record.begin(port::Access::Read))->loads().highest_number("S1"));
}

}  // namespace

std::unique_ptr<Group> folder_group(std::string folder) {
  return std::make_unique<FolderGroup>(std::move(folder));
}
std::unique_ptr<Group> database_group(std::string admin) {
  return std::make_unique<DatabaseGroup>(std::move(admin));
}

struct OfficeAtHand::Parts final {
  explicit Parts(std::unique_ptr<port::Store> record) : store(std::move(record)) {}

  std::unique_ptr<port::Store> store;
  std::unique_ptr<port::Clock> clock = system::make_system_clock();
  tests::UtcZone zone;
  tests::PlainKeyring keyring{"bench"};
  app::Ports ports{*store, *clock, zone, keyring};
};

OfficeAtHand::OfficeAtHand(Group& group, int office) : parts_(std::make_unique<Parts>(group.open(office))) {}
OfficeAtHand::~OfficeAtHand() = default;

const app::Ports& OfficeAtHand::ports() const {
  return parts_->ports;
}

// Spread over the whole range of ids, as those drawn at random are.
core::PackageId package_id(int office, char sterilizer, int number) {
  std::uint64_t mixed = static_cast<std::uint64_t>(office) << 33 | static_cast<std::uint64_t>(number) << 1 | (sterilizer == '2' ? 1u : 0u);
  for (;; mixed += std::uint64_t{1} << 60) {
    std::uint64_t bits = mixed * 0x9E3779B97F4A7C15u;
    bits ^= bits >> 29;
    bits *= 0xBF58476D1CE4E5B9u;
    std::array<std::uint8_t, core::PackageId::kRandomBytes> bytes;
    for (std::uint8_t& byte : bytes) {
      byte = static_cast<std::uint8_t>(bits >> 56);
      bits <<= 8;
    }
    if (const auto id = core::PackageId::from_random(bytes)) return *id;
  }
}

std::string visit_of(int load) {
  return "V-" + std::to_string(load);
}

void fill(Group& group, int packages_per_office, const std::function<void(std::int64_t)>& told) {
  const int loads = packages_per_office / kPackagesPerLoad;
  std::int64_t done = 0;
  for (int office = 0; office < kOffices; ++office) {
    group.make(office);
    const OfficeAtHand at_hand{group, office};
    const app::Ports& ports = at_hand.ports();
    if (is_empty(ports.store)) make_tables(ports);
    if (must(app::list_incidents(ports)).empty()) make_incident(ports, office);
    for (int first = highest_load(ports.store) + 1; first <= loads; first += kLoadsPerUnit) {
      const int last = std::min(loads, first + kLoadsPerUnit - 1);
      write_loads(ports, office, "S1", first, last);
      told(done + std::int64_t{last} * kPackagesPerLoad);
    }
    done += std::int64_t{highest_load(ports.store)} * kPackagesPerLoad;
    told(done);
  }
}

}  // namespace loadlight::bench
