// Queries about biological indicators, cycle logs, incidents, services, programs, lots and settings.
#include <algorithm>

#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

void write_records(port::Store& store, std::vector<Record> records) {
  write(store, {a_change(EventKind::BiologicalPlaced, 1, std::move(records))});
}

BiologicalRun due_at(BiologicalRun run, int minutes) {
  run.due_at = moment(minutes);
  return run;
}

TEMPLATE_TEST_CASE("Biological indicators come by number, of their load only", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  CHECK(must(reading(*backend.store)->evidence().highest_run_number()) == 0);
  write_records(*backend.store, {a_biological_run(10), a_biological_run(2), a_biological_run(1, 2)});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->evidence().runs_of({"S1", 1})) == std::vector{a_biological_run(2), a_biological_run(10)});
  CHECK(must(unit->evidence().runs_of({"S1", 3})).empty());
  CHECK(must(unit->evidence().find_run(10)) == a_biological_run(10));
  CHECK_FALSE(must(unit->evidence().find_run(3)));
  CHECK(must(unit->evidence().highest_run_number()) == 10);
}

TEMPLATE_TEST_CASE("Indicators without a result come by the time they are due", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  BiologicalReading answer = a_biological(1);
  answer.of_run = 2;
  const auto late = due_at(a_biological_run(1), 900), read = due_at(a_biological_run(2), 100);
  const auto early = due_at(a_biological_run(3, 2), 500), equal = due_at(a_biological_run(4, 2), 500);
  write_records(*backend.store, {late, read, equal, early, answer});
  CHECK(must(reading(*backend.store)->evidence().open_runs()) == std::vector{early, equal, late});
}

TEMPLATE_TEST_CASE("Loads with an indicator of a lot come by name, each once, the control's lot counting", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  auto chemical = an_indicator(1, 2), again = an_indicator(2, 2);
  chemical.lot = again.lot = "L 7";
  auto run = a_biological_run(1, 1);
  run.control_lot = "L 7";
  auto result = a_biological(1, 10);
  result.lot = "L 7";
  write_records(*backend.store, {a_load(10), chemical, again, run, result, an_indicator(3, 3)});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->evidence().loads_of_lot("L 7")) == std::vector<LoadName>{{"S1", 1}, {"S1", 2}, {"S1", 10}});
  CHECK(must(unit->evidence().loads_of_lot("L")).empty());
}

TEMPLATE_TEST_CASE("All results of a sterilizer come by load number and number", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  BiologicalReading other = a_biological(7, 5);
  other.load.sterilizer = "S2";
  Load elsewhere = a_load(5);
  elsewhere.name.sterilizer = "S2";
  write_records(*backend.store, {a_sterilizer("S2"), elsewhere, other, a_load(10), a_biological(4, 2),
                                 a_biological(12, 1), a_biological(3, 10), a_biological(5, 1)});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->evidence().biologicals_of_sterilizer("S1")) ==
        std::vector{a_biological(5, 1), a_biological(12, 1), a_biological(4, 2), a_biological(3, 10)});
  CHECK(must(unit->evidence().biologicals_of_sterilizer("S2")) == std::vector{other});
  CHECK(must(unit->evidence().biologicals_of_sterilizer("S3")).empty());
  const auto before = [&](const char* sterilizer, int load) {
    return must(unit->evidence().newest_tested_before(sterilizer, load));
  };
  CHECK(std::vector{before("S1", 99), before("S1", 10), before("S1", 2), before("S1", 1)} == std::vector{10, 2, 1, 0});
  CHECK(std::vector{before("S2", 99), before("S3", 99)} == std::vector{5, 0});
}

TEMPLATE_TEST_CASE("Cycle logs are found by number, and an earlier one stays", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  CHECK(must(reading(*backend.store)->evidence().highest_log_number()) == 0);
  write_records(*backend.store, {a_cycle_log(2), a_cycle_log(11)});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->evidence().find_log(2)) == a_cycle_log(2));
  CHECK(must(unit->evidence().find_log(11)) == a_cycle_log(11));
  CHECK_FALSE(must(unit->evidence().find_log(3)));
  CHECK(must(unit->evidence().highest_log_number()) == 11);
}

TEMPLATE_TEST_CASE("Incidents are found by number, open or closed", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Incident closed = an_incident(11);
  closed.state = IncidentState::Closed;
  write_records(*backend.store, {closed, an_incident(2)});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->incidents().find(11)) == closed);
  CHECK_FALSE(must(unit->incidents().find(3)));
  CHECK(must(unit->incidents().all()) == std::vector{an_incident(2), closed});
}

TEMPLATE_TEST_CASE("Steps come by number and accounts by package, of their incident only", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  CHECK(must(reading(*backend.store)->incident_work().highest_step_number()) == 0);
  write_records(*backend.store,
                {an_incident(1), an_incident(2), a_package(1), a_package(2), a_package(3), a_step(10, 1),
                 a_step(2, 1), a_step(3, 2), an_accounting(1, 3), an_accounting(1, 1), an_accounting(2, 2)});
  const auto unit = reading(*backend.store);
  const auto& work = unit->incident_work();
  CHECK(must(work.steps_of(1)) == std::vector{a_step(2, 1), a_step(10, 1)});
  CHECK(must(work.steps_of(3)).empty());
  CHECK(must(work.highest_step_number()) == 10);
  auto expected = std::vector{an_accounting(1, 1), an_accounting(1, 3)};
  if (expected[1].package < expected[0].package) std::swap(expected[0], expected[1]);
  CHECK(must(work.accounted_in(1)) == expected);
  CHECK(must(work.accounted_in(3)).empty());
}

TEMPLATE_TEST_CASE("A package accounted for again is accounted for once, by the later word", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Accounting found = an_accounting(1, 1);
  write_records(*backend.store, {an_incident(1), a_package(1), found});
  found.disposition = Disposition::Reprocessed;
  write_records(*backend.store, {found});
  CHECK(must(reading(*backend.store)->incident_work().accounted_in(1)) == std::vector{found});
  CHECK(must(backend.store->verify()).empty());
}

TEMPLATE_TEST_CASE("The service log comes by number, of its sterilizer only", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  CHECK(must(reading(*backend.store)->services().highest_number()) == 0);
  ServiceEntry other = a_service(3);
  other.sterilizer = "S2";
  write_records(*backend.store, {a_sterilizer("S2"), a_service(10), a_service(2), other});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->services().of_sterilizer("S1")) == std::vector{a_service(2), a_service(10)});
  CHECK(must(unit->services().of_sterilizer("S2")) == std::vector{other});
  CHECK(must(unit->services().of_sterilizer("S3")).empty());
  CHECK(must(unit->services().highest_number()) == 10);
}

TEMPLATE_TEST_CASE("Programs, lots and settings are found by their keys and listed in their order",
                   "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  write_records(*backend.store, {a_program("P2"), a_program("P1"), a_consumable("L-2"), a_consumable("L-1"),
                                 a_setting("leak-test"), a_setting("biological")});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->programs().all()) == std::vector{a_program("P1"), a_program("P2")});
  CHECK(must(unit->programs().find("P2")) == a_program("P2"));
  CHECK_FALSE(must(unit->programs().find("P3")));
  CHECK(must(unit->consumables().all()) == std::vector{a_consumable("L-1"), a_consumable("L-2")});
  CHECK(must(unit->consumables().find("L-1")) == a_consumable("L-1"));
  CHECK_FALSE(must(unit->consumables().find("l-1")));
  CHECK(must(unit->settings().all()) == std::vector{a_setting("biological"), a_setting("leak-test")});
  CHECK(must(unit->settings().find("leak-test")) == a_setting("leak-test"));
  CHECK_FALSE(must(unit->settings().find("moon")));
}

TEMPLATE_TEST_CASE("Events about a subject come back oldest first with every detail, one key's values each",
                   "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto check = [](int minutes, std::string subject, Details details) {
    Change change = a_change(EventKind::PackageChecked, minutes);
    change.subject = std::move(subject);
    change.details = std::move(details);
    return change;
  };
  const Details several{{"outcome", "hold"}, {"reason", "incident-open"}, {"reason", "load-overdue"}};
  Change anonymous = check(3, "P1", {{"outcome", "clear"}});
  anonymous.operator_code.clear();
  Change opened = check(4, "P1", {});
  opened.kind = EventKind::PackageOpened;
  write(*backend.store, {check(2, "P1", several), anonymous, opened, check(5, "P2", {})});
  const auto unit = reading(*backend.store);
  const auto events = must(unit->events_about("P1", EventKind::PackageChecked));
  REQUIRE(events.size() == 2);
  CHECK(events[0].at == moment(2));
  CHECK(events[0].operator_code == "AB");
  CHECK(std::is_permutation(several.begin(), several.end(), events[0].details.begin(),
                            events[0].details.end()));
  CHECK(events[1].operator_code.empty());
  CHECK(events[1].details == Details{{"outcome", "clear"}});
  CHECK(must(unit->events_about("P3", EventKind::PackageChecked)).empty());
}

}  // namespace
}  // namespace loadlight::store
