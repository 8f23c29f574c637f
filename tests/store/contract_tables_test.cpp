#include <limits>

#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

const std::string kAnyScript = "Čistý 消毒 \xF0\x9F\xA6\xB7 عدسة \"quoted\" \\ ' ; -- \n\t\x01 e\xCC\x81";

// Of what is written again only the last stays.
template <class T, class Find>
void check_round_trip(port::Store& store, const T& first, const T& last, Find find) {
  write(store, {a_change(EventKind::ContentsAdded, 10, {first})});
  CHECK(find(*reading(store)) == first);
  write(store, {a_change(EventKind::ContentsRetired, 11, {last})});
  CHECK(find(*reading(store)) == last);
  CHECK(must(store.verify()).empty());
}

TEMPLATE_TEST_CASE("The office's settings come back as they were written", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  Office office = an_office();
  office.name = kAnyScript;
  Office event_related;
  event_related.made_at = instant_from(std::numeric_limits<std::int64_t>::min());
  check_round_trip(*backend.store, office, event_related, [](auto& unit) { return must(unit.office()); });
}

TEMPLATE_TEST_CASE("Entries of the office's tables come back as they were written", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  auto& store = *backend.store;
  SECTION("operators") {
    const Operator gone{"Z9", kAnyScript, Role::Staff, day(1900, 1, 1), day(9999, 12, 31)};
    check_round_trip(store, an_operator("Z9"), gone,
                     [](auto& unit) { return *must(unit.operators().find("Z9")); });
  }
  SECTION("sterilizers") {
    const Sterilizer out{"ABC", "", AirRemoval::Gravity, SterilizerType::S, false, day(2028, 2, 29)};
    check_round_trip(store, a_sterilizer("ABC"), out,
                     [](auto& unit) { return *must(unit.sterilizers().find("ABC")); });
  }
  SECTION("contents") {
    const Contents odd{"CODE5678", kAnyScript,     {"", kAnyScript, "[]", "a"}, true, true, true,
                       true,       day(2026, 1, 1)};
    check_round_trip(store, Contents{"CODE5678", "", {}, false, false, false, false, {}}, odd,
                     [](auto& unit) { return *must(unit.contents().find("CODE5678")); });
  }
  SECTION("kinds") {
    const PackageKind odd{"K", kAnyScript, Wrapping::RigidContainer, day(2026, 1, 1)};
    check_round_trip(store, a_kind("K"), odd, [](auto& unit) { return *must(unit.kinds().find("K")); });
  }
  SECTION("locations") {
    const Location odd{"L", kAnyScript, day(2026, 1, 1)};
    check_round_trip(store, a_location("L"), odd,
                     [](auto& unit) { return *must(unit.locations().find("L")); });
  }
  SECTION("stocks") {
    const LabelStock odd{"S",        kAnyScript,     PrintMethod::DirectThermal, 1200, SteamRating::Unrated,
                         kAnyScript, day(2026, 1, 1)};
    check_round_trip(store, a_stock("S"), odd, [](auto& unit) { return *must(unit.stocks().find("S")); });
  }
}

TEMPLATE_TEST_CASE("A table lists its entries by code and knows no others", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {a_change(EventKind::LocationAdded, 1,
                                  {a_location("B"), a_location("10"), a_location("A2"), a_location("2")})});
  const auto unit = reading(*backend.store);
  std::vector<std::string> codes;
  for (const auto& location : must(unit->locations().all())) codes.push_back(location.code);
  CHECK(codes == std::vector<std::string>{"10", "2", "A2", "B"});
  CHECK_FALSE(must(unit->locations().find("b")));
  CHECK_FALSE(must(unit->locations().find("")));
  CHECK_FALSE(must(unit->locations().find("B' OR '1'='1")));
}

Package full_package() {
  Package package = a_package(1, 1, PackageState::Withdrawn);
  package.use_by = day(2027, 5, 24);
  package.chart_payload = "LLC1.";
  package.chart_symbol = {40, ErrorCorrection::H, 7};
  package.recalled = true;
  package.replaced_by = package_id(2);
  package.location = "SHELF1";
  package.withdrawn_because = WithdrawReason::Indicator;
  package.opened_at = moment(60);
  package.visit = "A-1";
  package.internal_indicator = IndicatorLook::Unchanged;
  return package;
}

TEMPLATE_TEST_CASE("Packages come back as they were written", "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding(), a_change(EventKind::LabelsPrinted, 1, {a_package(2)})});
  check_round_trip(*backend.store, full_package(), a_package(1),
                   [](auto& unit) { return *must(unit.packages().find(package_id(1))); });
}

Load full_load() {
  Load load = a_load(7, LoadState::Released);
  load.name.number = LoadName::kLastNumber;
  load.program = "steam-132";
  load.purpose = LoadPurpose::Retest;
  load.loose_items = {{"EXAM", 3}, {"EXAM", 1}};
  load.opened_at = moment(1);
  load.started_at = moment(2);
  load.process_date = day(2026, 11, 25);
  load.finished_at = moment(3);
  load.machine_counter = 0;
  load.abort_reason = kAnyScript;
  load.readings = Readings{132.0, 134.10000000000002, 1.0 / 3.0, std::numeric_limits<double>::min(), 0.0};
  load.decided_at = moment(4);
  load.decided_by = "AB";
  load.emergency_reason = "implant needed";
  load.emergency_second = "CD";
  load.implant_aboard = true;
  return load;
}

TEMPLATE_TEST_CASE("Loads come back as they were written", "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Load bare = full_load();
  SECTION("without readings") {
    bare = Load{};
    bare.name = full_load().name;
  }
  SECTION("without a drying time") {
    bare.readings->drying_minutes.reset();
  }
  SECTION("with readings of nothing") {
    bare.readings = Readings{};
  }
  SECTION("with readings as large as can be") {
    bare.readings->minutes = std::numeric_limits<double>::max();
  }
  check_round_trip(*backend.store, full_load(), bare,
                   [](auto& unit) { return *must(unit.loads().find(full_load().name)); });
}

TEMPLATE_TEST_CASE("Evidence, incidents and print runs come back as they were written", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  auto& store = *backend.store;
  write(store, {founding(), a_change(EventKind::LabelsPrinted, 1, {a_package(1)})});
  SECTION("indicators") {
    IndicatorReading of_package = an_indicator(5);
    of_package.package = package_id(1);
    of_package.passed = false;
    of_package.place = IndicatorPlace::ProcessChallenge;
    of_package.type = 6;
    check_round_trip(store, an_indicator(5), of_package, [](auto& unit) {
      return must(unit.evidence().indicators_of({"S1", 1})).at(0);
    });
  }
  SECTION("biologicals") {
    BiologicalReading lost = a_biological(5);
    lost.test = BiologicalTest::Lost;
    lost.control = BiologicalControl::NotReported;
    lost.control_lot = "";
    check_round_trip(store, a_biological(5), lost, [](auto& unit) {
      return must(unit.evidence().biologicals_of({"S1", 1})).at(0);
    });
  }
  SECTION("incidents") {
    Incident bounded = an_incident(5);
    bounded.last_run = std::numeric_limits<int>::max();
    bounded.program = "steam-134";
    bounded.recall = RecallReach::Everything;
    bounded.sterilizer_held = true;
    bounded.closed_at = moment(99);
    bounded.cause = IncidentCause::InternalIndicator;
    check_round_trip(store, an_incident(5), bounded,
                     [](auto& unit) { return must(unit.incidents().open_ones()).at(0); });
  }
  SECTION("biological runs") {
    BiologicalRun mailed = a_biological_run(5);
    mailed.reader = BiologicalReader::MailIn;
    mailed.service = kAnyScript;
    mailed.sent_on = day(2026, 11, 26);
    mailed.incubated_at = moment(77);
    mailed.expires = day(2027, 1, 1);
    check_round_trip(store, a_biological_run(5), mailed,
                     [](auto& unit) { return *must(unit.evidence().find_run(5)); });
  }
  SECTION("cycle logs") {
    CycleLog odd = a_cycle_log(5);
    odd.file = kAnyScript;
    odd.why = "the first was another load's";
    check_round_trip(store, a_cycle_log(5), odd,
                     [](auto& unit) { return *must(unit.evidence().find_log(5)); });
  }
  SECTION("steps of incidents") {
    write(store, {a_change(EventKind::IncidentOpened, 2, {an_incident(1)})});
    IncidentStep odd = a_step(5);
    odd.note = kAnyScript;
    check_round_trip(store, a_step(5), odd,
                     [](auto& unit) { return must(unit.incident_work().steps_of(1)).at(0); });
  }
  SECTION("what became of suspect packages") {
    write(store, {a_change(EventKind::IncidentOpened, 2, {an_incident(1)})});
    Accounting other = an_accounting(1, 1);
    other.disposition = Disposition::Reprocessed;
    check_round_trip(store, an_accounting(1, 1), other,
                     [](auto& unit) { return must(unit.incident_work().accounted_in(1)).at(0); });
  }
  SECTION("services") {
    ServiceEntry plain = a_service(5);
    plain.next_due.reset();
    plain.counter_reset = false;
    check_round_trip(store, a_service(5), plain,
                     [](auto& unit) { return must(unit.services().of_sterilizer("S1")).at(0); });
  }
  SECTION("programs") {
    OfficeProgram signed_for = a_program("P");
    signed_for.accepted_by = "AB";
    signed_for.retired_on = day(2027, 1, 1);
    check_round_trip(store, a_program("P"), signed_for,
                     [](auto& unit) { return *must(unit.programs().find("P")); });
  }
  SECTION("consumables") {
    Consumable gone = a_consumable("lot 7/B");
    gone.retired_on = day(2027, 1, 1);
    check_round_trip(store, a_consumable("lot 7/B"), gone,
                     [](auto& unit) { return *must(unit.consumables().find("lot 7/B")); });
  }
  SECTION("settings") {
    OfficeSetting other = a_setting("biological");
    other.value = "weekly";
    check_round_trip(store, a_setting("biological"), other,
                     [](auto& unit) { return *must(unit.settings().find("biological")); });
  }
  SECTION("print runs") {
    PrintRun odd = a_print_run(5);
    odd.template_name = kAnyScript;
    odd.nudge_y_microns = -2000000;
    check_round_trip(store, a_print_run(5), odd, [](auto& unit) { return *must(unit.print_runs().find(5)); });
  }
}

}  // namespace
}  // namespace loadlight::store
