#include "loadlight/app/begin_office.h"

#include <algorithm>

#include "loadlight/app/sign_in.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLargestTable = 1u << 20;    // bytes
constexpr std::size_t kLargestMapping = 1u << 16;  // bytes
constexpr std::size_t kLongestName = 200;          // bytes, of an office

// What stands on its labels and records: bounded, without control characters.
Result<void> check_name(const std::string& name) {
  const bool clean = std::none_of(name.begin(), name.end(),
                                  [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
  if (!name.empty() && name.size() <= kLongestName && clean) return {};
  return Failure{FailureCode::BadValue, {{"field", "office-name"}, {"given", clean ? name.substr(0, 60) : ""}}, {}};
}

// Calls `work` with the ports of a new office in `folder`; takes the office back unless it succeeds.
template <class Work>
auto in_new_office(const World& world, const std::string& folder, const std::string& zone_name, Work work)
    -> decltype(work(std::declval<const Ports&>(), std::declval<OfficeLeaves&>())) {
  const auto zone = world.open_zone(zone_name);
  if (!zone) return zone.failure();
  auto leaves = world.make_office(folder);
  if (!leaves) return leaves.failure();
  const Ports ports{*leaves->store, world.clock, **zone, *leaves->keyring};
  auto made = work(ports, *leaves);
  if (!made) {
    *leaves = {};
    world.unmake_office(folder);
  }
  return made;
}

struct Lead final {
  core::Operator who;
  std::string pin;
};

// The first operator leads, whatever his row says.
Result<Lead> add_lead(const Ports& ports, port::PinBook& pins, const FirstRunRequest& request) {
  const auto added = add_entries(ports, {}, OfficeTable::Operators, {request.lead});
  if (!added) return added.failure();
  const std::string code = added->front().front().second;
  const auto pin = set_pin(ports, pins, {code, code, request.pin});
  if (!pin) return pin.failure();
  const auto who = signed_in_operator(ports, code);
  if (!who) return who.failure();
  return Lead{*who, *pin};
}

Result<std::string> csv_of(const World& world, OfficeTable table) {
  return world.files.read(world.samples_folder + "/office/" + std::string{text_of(table).name} + ".csv",
                          kLargestTable);
}

Result<DemoTables> demo_tables(const World& world) {
  DemoTables tables;
  for (const auto table : {OfficeTable::Operators, OfficeTable::Sterilizers, OfficeTable::Contents,
                           OfficeTable::Kinds, OfficeTable::Locations, OfficeTable::Stocks,
                           OfficeTable::Programs}) {
    auto csv = csv_of(world, table);
    if (!csv) return csv.failure();
    tables.csv.emplace_back(table, std::move(*csv));
  }
  const std::string mapping_name = "plain-seconds";
  const auto mapping =
      world.files.read(world.templates_folder + "/mappings/" + mapping_name + ".mapping", kLargestMapping);
  if (!mapping) return mapping.failure();
  for (const char* name : {"good-prevac-134.csv", "short-exposure.csv"}) {
    auto log = world.files.read(world.samples_folder + "/cycles/" + name, kLargestTable);
    if (!log) return log.failure();
    tables.logs.push_back({name, std::move(*log), mapping_name, *mapping});
  }
  return tables;
}

}  // namespace

Result<FirstRun> begin_office(const World& world, const std::string& folder, const FirstRunRequest& request) {
  if (!request.lead.empty()) {
    if (const auto ok = check_name(request.office.name); !ok) return ok.failure();
  }
  const auto work = [&](const Ports& ports, OfficeLeaves& leaves) -> Result<FirstRun> {
    const auto office = make_office(ports, request.office);
    if (!office) return office.failure();
    if (request.lead.empty()) return FirstRun{std::move(leaves), *office, {}, {}};
    const auto lead = add_lead(ports, *world.open_pins(folder), request);
    if (!lead) return lead.failure();
    for (const auto& [table, row] : request.entries) {
      const auto added = add_entries(ports, lead->who.code, table, {row});
      if (!added) return added.failure();
    }
    return FirstRun{std::move(leaves), *office, lead->who, lead->pin};
  };
  return in_new_office(world, folder, request.office.zone, work);
}

Result<DemoOffice> begin_demo(const World& world, const std::string& folder, const PrintShop& shop,
                              const OfficeRequest& request) {
  const auto tables = demo_tables(world);
  if (!tables) return tables.failure();
  const auto work = [&](const Ports& ports, OfficeLeaves& leaves) -> Result<DemoOffice> {
    auto cases = make_demo(ports, shop, request, *tables);
    if (!cases) return cases.failure();
    return DemoOffice{std::move(leaves), std::move(*cases)};
  };
  return in_new_office(world, folder, request.zone, work);
}

Result<FirstRun> begin_work(const Ports& ports, port::PinBook& pins, const FirstRunRequest& request) {
  const auto there = list_entries(ports, OfficeTable::Operators);
  if (!there) return there.failure();
  if (!there->empty()) return Failure{FailureCode::OfficeExists, {}, {}};
  // What can be told beforehand is: a lead without a PIN could not sign in, and nobody else could begin.
  if (!request.pin.empty()) {
    if (const auto ok = check_chosen_pin(request.pin); !ok) return ok.failure();
  }
  if (const auto book = pins.has({}); !book) return book.failure();
  const auto lead = add_lead(ports, pins, request);
  if (!lead) return lead.failure();
  return FirstRun{{}, {}, lead->who, lead->pin};
}

}  // namespace loadlight::app
