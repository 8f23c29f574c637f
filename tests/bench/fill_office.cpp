// Makes an office with any number of packages, for benchmarks: released loads of twelve packages each, in
// date, written through the store so that the ledger is whole. Prints one payload and id to check.
//
//   fill_office FOLDER PACKAGES [recall]
//
// With `recall` spores grew twenty loads before the end, and were last negative twenty loads before that.

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/app/load_evidence.h"
#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/core/payload.h"
#include "loadlight/store/record.h"
#include "loadlight/system/clock.h"
#include "loadlight/system/keyring.h"
#include "loadlight/system/zone.h"
#include "released_load.h"

namespace {

using namespace loadlight;

constexpr int kPackagesPerLoad = 12;
constexpr int kLoadsPerUnit = 50;

template <class T>
T must(core::Result<T> result) {
  if (result) return std::move(*result);
  std::fprintf(stderr, "fill_office: %s\n", std::string{core::to_text(result.failure().code)}.c_str());
  std::exit(1);
}
void must(core::Result<void> result) {
  if (result) return;
  std::fprintf(stderr, "fill_office: %s\n", std::string{core::to_text(result.failure().code)}.c_str());
  std::exit(1);
}

core::PackageId draw(const port::Keyring& keyring) {
  for (;;) {
    std::array<std::uint8_t, core::PackageId::kRandomBytes> bytes;
    keyring.fill_random(bytes);
    if (const auto id = core::PackageId::from_random(bytes)) return *id;
  }
}

void make_tables(const app::Ports& ports) {
  using app::OfficeTable;
  must(app::make_office(ports, {"Bench", "UTC", "us-cdc-2003", "en", 180}));
  must(app::add_entries(ports, "MB", OfficeTable::Operators, {{{"code", "MB"}, {"name", "M"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Sterilizers,
                        {{{"code", "S1"}, {"name", "S"}, {"removal", "dynamic"}, {"type", "B"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Contents, {{{"code", "EXAM"}, {"name", "Exam set"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Kinds,
                        {{{"code", "P"}, {"name", "Pouch"}, {"wrapping", "pouch"}}}));
  must(app::add_entries(ports, "MB", OfficeTable::Stocks,
                        {{{"code", "SHEET"}, {"name", "Film sheets"}, {"method", "laser"}, {"dpi", "600"},
                          {"rating", "trial"}, {"rating_note", "bench"}}}));
}

core::Package make_package(const app::Ports& ports, const core::LoadName& load, core::CivilDate day, int cell) {
  const core::LabelFields fields{draw(ports.keyring), load, day, day.plus_days(180), "MB", "EXAM", "P"};
  std::string payload = core::unsigned_payload(core::LabelForm::Package, fields);
  payload += ports.keyring.mac(payload);
  core::Package package{fields.package, load, day, fields.use_by, "MB", "EXAM", "P", payload};
  package.symbol = {5, core::ErrorCorrection::Q, 0};
  package.print_run = load.number;
  package.cell = cell;
  package.printed_at = ports.clock.now();
  package.state = core::PackageState::Loaded;
  return package;
}

// One load with its packages and print run, as one event.
core::Package write_load(const app::Ports& ports, port::Unit& unit, int number, core::CivilDate day) {
  const core::LoadName name{"S1", number};
  core::Change change;
  change.kind = core::EventKind::LoadReleased;
  change.at = ports.clock.now();
  change.operator_code = "MB";
  change.subject = name.text();
  change.records = {bench::released_load(name, day, ports.clock.now()), core::PrintRun{number, "a4-24", "SHEET", 600, 1, 0, 0, change.at}};
  core::Package last = make_package(ports, name, day, 1);
  change.records.emplace_back(last);
  for (int cell = 2; cell <= kPackagesPerLoad; ++cell) {
    last = make_package(ports, name, day, cell);
    change.records.emplace_back(last);
  }
  must(unit.write(change));
  return last;
}

// Forty loads are then in doubt, as in a busy office's week.
void make_recall(const app::Ports& ports, int loads) {
  const auto result = [&](int number, core::BiologicalTest test) {
    must(app::record_biological(ports, {"MB", {"S1", number}, "B1", test, core::BiologicalControl::Growth, "B1",
                                        {}, {}, "", ""}));
  };
  result(std::max(1, loads - 40), core::BiologicalTest::NoGrowth);
  result(std::max(1, loads - 20), core::BiologicalTest::Growth);
}

int fill(const std::string& folder, int packages, bool recall) {
  std::filesystem::create_directories(folder);
  const auto clock = system::make_system_clock();
  const auto zone = must(system::open_zone("UTC"));
  const auto store = must(store::create_record(folder));
  const auto keyring = must(system::create_keyring(folder, clock->now()));
  const app::Ports ports{*store, *clock, *zone, *keyring};
  make_tables(ports);
  const core::CivilDate today = zone->local_date(clock->now());
  const int loads = (packages + kPackagesPerLoad - 1) / kPackagesPerLoad;
  std::optional<core::Package> last;
  for (int first = 1; first <= loads; first += kLoadsPerUnit) {
    const auto unit = must(store->begin(port::Access::Write));
    for (int number = first; number < first + kLoadsPerUnit && number <= loads; ++number) {
      last = write_load(ports, *unit, number, today.plus_days(-(loads - number) * 90 / loads));
    }
    must(unit->commit());
  }
  if (recall) make_recall(ports, loads);
  std::printf("%s %s\n", last->id.text().c_str(), last->payload.c_str());
  return 0;
}

}  // namespace

int main(int count, char** values) {
  const int packages = count >= 3 ? std::atoi(values[2]) : 0;
  const bool recall = count == 4 && std::string{values[3]} == "recall";
  if (packages < 1 || packages > 1'100'000 || count > (recall ? 4 : 3)) {
    std::fputs("usage: fill_office FOLDER PACKAGES [recall] (1 to 1100000)\n", stderr);
    return 2;
  }
  return fill(values[1], packages, recall);
}
