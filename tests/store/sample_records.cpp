#include "sample_records.h"

#include <array>

namespace loadlight::store {

using namespace core;

CivilDate day(int year, unsigned month, unsigned day_of_month) {
  return *CivilDate::from(year, month, day_of_month);
}

Instant moment(int minutes) {
  return instant_from(1795608000000) + std::chrono::minutes{minutes};
}

PackageId package_id(int n) {
  for (unsigned tail = 0;; ++tail) {
    const auto number = static_cast<unsigned>(n);
    const auto byte = [](unsigned value) { return static_cast<std::uint8_t>(value & 0xFF); };
    const std::array<std::uint8_t, PackageId::kRandomBytes> bytes{
        byte(number * 167), byte(number >> 16), byte(number >> 8), byte(number), byte(tail), 0};
    if (const auto id = PackageId::from_random(bytes)) return *id;
  }
}

Office an_office() {
  Office office;
  office.name = "Lindenhof practice";
  office.zone = "Europe/Berlin";
  office.shelf_life_days = 180;
  office.made_at = moment(0);
  return office;
}

Operator an_operator(std::string code) {
  return {std::move(code), "Ada Example", Role::Lead, day(2026, 1, 1), {}};
}

Sterilizer a_sterilizer(std::string code) {
  return {std::move(code), "By the window", AirRemoval::Dynamic, SterilizerType::B, true, {}};
}

Contents some_contents(std::string code) {
  return {std::move(code), "Examination set", {"mirror", "probe"}, false, true, false, false, {}};
}

PackageKind a_kind(std::string code) {
  return {std::move(code), "Pouch", Wrapping::Pouch, {}};
}
Location a_location(std::string code) {
  return {std::move(code), "Left shelf", {}};
}

LabelStock a_stock(std::string code) {
  return {std::move(code),
          "Roll 57 x 32",
          PrintMethod::ThermalTransfer,
          300,
          SteamRating::Trial,
          "no change",
          {}};
}

PrintRun a_print_run(int number) {
  return {number, "roll", "ROLL", 300, 1, -250, 0, moment(1)};
}

Load a_load(int number, LoadState state) {
  Load load;
  load.name = {"S1", number};
  load.state = state;
  return load;
}

Package a_package(int n, int load, PackageState state) {
  Package package{package_id(n), {"S1", load}, day(2026, 11, 25)};
  package.operator_code = "AB";
  package.contents = "EXAM";
  package.kind = "PCH";
  package.payload = "LL1.S" + package.id.text();
  package.symbol = {5, ErrorCorrection::Q, 3};
  package.print_run = 1;
  package.cell = n;
  package.printed_at = moment(2);
  package.state = state;
  return package;
}

IndicatorReading an_indicator(int number, int load) {
  IndicatorReading reading;
  reading.number = number;
  reading.load = {"S1", load};
  reading.lot = "L-7";
  reading.expires = day(2027, 6, 30);
  reading.passed = true;
  reading.read_by = "AB";
  reading.read_at = moment(3);
  return reading;
}

BiologicalReading a_biological(int number, int load) {
  BiologicalReading reading;
  reading.number = number;
  reading.load = {"S1", load};
  reading.lot = reading.control_lot = "B-1";
  reading.test = BiologicalTest::NoGrowth;
  reading.control = BiologicalControl::Growth;
  reading.read_by = "AB";
  reading.read_at = moment(4);
  return reading;
}

BiologicalRun a_biological_run(int number, int load) {
  BiologicalRun run;
  run.number = number;
  run.load = {"S1", load};
  run.lot = run.control_lot = "B-1";
  run.placed_by = "AB";
  run.placed_at = moment(3);
  run.due_at = moment(24 * 60);
  return run;
}

CycleLog a_cycle_log(int number, int load) {
  return {number, {"S1", load}, "card.csv", "plain-seconds", "samples 1", "at 0 20 -", "AB", moment(3), ""};
}

IncidentStep a_step(int number, int incident) {
  return {number, incident, "inspect", "fine", "looked at", "AB", moment(6)};
}

Accounting an_accounting(int incident, int package) {
  return {incident, package_id(package), Disposition::NotFound, "not on any shelf", "AB", moment(7)};
}

ServiceEntry a_service(int number) {
  return {number, "S1", ServiceKind::Repair, "door seal", true, day(2027, 5, 1), "AB", moment(8)};
}

OfficeProgram a_program(std::string code) {
  OfficeProgram program;
  program.code = std::move(code);
  program.name = "Pouches";
  program.sterilizer = "S1";
  program.celsius = 134;
  program.exposure_minutes = 3.5;
  program.drying_minutes = 20;
  program.document = "Instructions";
  program.page = "12";
  program.entered_by = "AB";
  program.entered_at = moment(1);
  return program;
}

Consumable a_consumable(std::string lot) {
  return {std::move(lot), ConsumableKind::Biological, "Spore strip", day(2027, 6, 30), {}};
}

OfficeSetting a_setting(std::string name) {
  return {std::move(name), "daily", "we agreed so", "AB", moment(1)};
}

Incident an_incident(int number) {
  Incident incident;
  incident.number = number;
  incident.cause = IncidentCause::BiologicalPositive;
  incident.sterilizer = "S1";
  incident.load_number = 1;
  incident.first_run = 1;
  incident.last_run = 3;
  incident.profile = "us-cdc-2003 2";
  incident.opened_by = "AB";
  incident.opened_at = moment(5);
  incident.note = "grew";
  return incident;
}

Change a_change(EventKind kind, int minutes, std::vector<Record> records) {
  return {kind, moment(minutes), "AB", "sample", {}, std::move(records)};
}

Change founding() {
  return a_change(EventKind::OfficeMade, 0,
                  {an_office(), an_operator("AB"), a_sterilizer("S1"), some_contents("EXAM"), a_kind("PCH"),
                   a_location("SHELF1"), a_stock("ROLL"), a_print_run(1), a_load(1), a_load(2), a_load(3)});
}

}  // namespace loadlight::store
