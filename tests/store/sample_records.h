// Invented records for the store's tests.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "loadlight/core/events.h"

namespace loadlight::store {

core::CivilDate day(int year, unsigned month, unsigned day_of_month);
// `minutes` after 2026-11-25T12:00:00Z.
core::Instant moment(int minutes);

// The nth of an endless row of package ids, all different.
core::PackageId package_id(int n);

core::Office an_office();
core::Operator an_operator(std::string code);
core::Sterilizer a_sterilizer(std::string code);
core::Contents some_contents(std::string code);
core::PackageKind a_kind(std::string code);
core::Location a_location(std::string code);
core::LabelStock a_stock(std::string code);
core::PrintRun a_print_run(int number);
core::Load a_load(int number, core::LoadState state = core::LoadState::Reserved);
// Of load S1-`load`, contents EXAM, kind PCH, print run 1, cell n.
core::Package a_package(int n, int load = 1, core::PackageState state = core::PackageState::Labelled);
core::IndicatorReading an_indicator(int number, int load = 1);
core::BiologicalReading a_biological(int number, int load = 1);
core::BiologicalRun a_biological_run(int number, int load = 1);
core::CycleLog a_cycle_log(int number, int load = 1);
core::IncidentStep a_step(int number, int incident = 1);
core::Accounting an_accounting(int incident, int package);
core::ServiceEntry a_service(int number);
core::OfficeProgram a_program(std::string code);
core::Consumable a_consumable(std::string lot);
core::OfficeSetting a_setting(std::string name);
core::Incident an_incident(int number);

core::Change a_change(core::EventKind kind, int minutes, std::vector<core::Record> records = {});

// An office with what all of the above name: operator AB, sterilizer S1, contents EXAM, kind PCH,
// location SHELF1, stock ROLL, print run 1, loads S1-1 to S1-3.
core::Change founding();

}  // namespace loadlight::store
