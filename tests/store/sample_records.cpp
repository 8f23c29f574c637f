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
  return {number, {"S1", load}, IndicatorPlace::External, 1, "L-7", day(2027, 6, 30), true, std::nullopt,
          "AB",   moment(3)};
}

BiologicalReading a_biological(int number, int load) {
  return {number, {"S1", load}, "B-1",    BiologicalTest::NoGrowth, BiologicalControl::Growth,
          "B-1",  "AB",         moment(4)};
}

Incident an_incident(int number) {
  return {
      number, IncidentCause::BiologicalPositive, IncidentState::Open, "S1", 1, std::nullopt, "AB", moment(5),
      "grew"};
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
