#include "loadlight/app/list_due.h"

#include "app/incident_scene.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::tests {
namespace {

using core::DueItem;
using core::DueKind;
using core::LoadName;

const LoadName kLoad{"S1", 1};

std::vector<DueItem> due(OfficeAtWork& office) {
  return must(app::list_due(office.ports()));
}

std::optional<DueItem> find(OfficeAtWork& office, DueKind kind, const std::string& subject) {
  for (const DueItem& item : due(office)) {
    if (item.kind == kind && item.subject == subject) return item;
  }
  return std::nullopt;
}

core::CivilDate today(const OfficeAtWork& office) {
  return office.zone.local_date(office.clock.now());
}

void place(OfficeAtWork& office) {
  app::PlaceBiologicalRequest request;
  request.operator_code = "CD";
  request.load = kLoad;
  request.lot = request.control_lot = "BI3";
  must(app::place_biological(office.ports(), request));
}

}  // namespace

TEST_CASE("A placed indicator's result is due, becomes overdue, and is done when it is read", "[R24]") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad));
  place(office);
  office.finish(kLoad);
  const auto item = find(office, DueKind::BiologicalResult, "S1-1");
  REQUIRE(item->when == today(office).plus_days(1));
  REQUIRE_FALSE(item->overdue);
  office.clock.turn_days(2);
  REQUIRE(find(office, DueKind::BiologicalResult, "S1-1")->overdue);
  must(stay_clear(office, kLoad));
  REQUIRE_FALSE(find(office, DueKind::BiologicalResult, "S1-1"));
}

// MMWR 52(RR-17) 2003 VI.F.6: at least weekly; counted from the run, not from its result.
TEST_CASE("The next biological indicator is due a week after the last was run, whenever it was read",
          "[R24]") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad));
  place(office);
  office.finish(kLoad);
  const auto ran_on = today(office);
  office.clock.turn_days(4);
  must(stay_clear(office, kLoad));
  office.released_package({"S1", 2});
  REQUIRE(find(office, DueKind::BiologicalRun, "S1")->when == ran_on.plus_days(7));
}

TEST_CASE("A result that proves nothing is no test: the next is due as if it had not been run",
          "[R24][R25]") {
  OfficeAtWork office;
  const auto first_used = today(office);
  office.released_package(kLoad);
  must(office.biological(kLoad, core::BiologicalTest::NoGrowth, core::BiologicalControl::NoGrowth));
  REQUIRE(find(office, DueKind::BiologicalRun, "S1")->when == first_used);
}

TEST_CASE("The day's air removal test is due for the dynamic sterilizer alone", "[R27]") {
  OfficeAtWork office{"us-cdc-2003", 180, DailyTests::AsTheProfileAsks};
  REQUIRE(find(office, DueKind::AirRemovalTest, "S1"));
  REQUIRE_FALSE(find(office, DueKind::AirRemovalTest, "S2"));
}

TEST_CASE("Loads to decide, quarantines and emergencies are due", "[R23]") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad, 1, "IMPL"));
  office.finish(kLoad);
  REQUIRE(find(office, DueKind::LoadToDecide, "S1-1"));
  office.give_evidence(kLoad);
  office.release(kLoad);
  REQUIRE_FALSE(find(office, DueKind::LoadToDecide, "S1-1"));
  REQUIRE(find(office, DueKind::Quarantine, "S1-1"));
  must(app::release_load(office.ports(), {"CD", kLoad, "no other", "AB"}));
  REQUIRE_FALSE(find(office, DueKind::Quarantine, "S1-1"));
  REQUIRE(find(office, DueKind::EmergencyReleaseResult, "S1-1"));
  must(stay_clear(office, kLoad));
  REQUIRE_FALSE(find(office, DueKind::EmergencyReleaseResult, "S1-1"));
}

TEST_CASE("Each step of an open incident that is due is due, and none once it is closed", "[R50]") {
  OfficeAtWork office;
  office.released_package(kLoad);
  must(grow(office, kLoad));
  REQUIRE(find(office, DueKind::IncidentStep, "1 review-records"));
  REQUIRE(step(office, "review-records", "fine") == "ok");
  REQUIRE_FALSE(find(office, DueKind::IncidentStep, "1 review-records"));
  REQUIRE_FALSE(find(office, DueKind::IncidentStep, "1 judge-positive"));
}

TEST_CASE("Lots and packages near their day are due within the office's near days", "[R37][R40]") {
  OfficeAtWork office{"us-cdc-2003", 14};
  must(app::import_entries(office.ports(), "AB", app::OfficeTable::Consumables,
                           "lot,kind,name,expires\nNEAR,chemical,Strips,2026-12-09\n"
                           "FAR,chemical,Strips,2026-12-10\nPAST,chemical,Strips,2026-11-24\n"));
  const auto package = office.released_package(kLoad);
  REQUIRE(find(office, DueKind::ConsumableExpiry, "NEAR"));
  REQUIRE_FALSE(find(office, DueKind::ConsumableExpiry, "FAR"));
  REQUIRE(find(office, DueKind::ConsumableExpiry, "PAST")->overdue);
  REQUIRE(find(office, DueKind::PackageExpiry, package.id.grouped())->when == *package.use_by);
}

TEST_CASE("Things of one list stand by day, then by kind, then by subject") {
  OfficeAtWork office;
  office.released_package(kLoad);
  must(grow(office, kLoad));
  const auto items = due(office);
  REQUIRE(items.size() > 3);
  REQUIRE(core::sorted(items) == items);
}

TEST_CASE("Whichever call of the store fails, there is no list rather than a shorter one") {
  OfficeAtWork office;
  office.released_package(kLoad);
  must(grow(office, kLoad));
  office.store.break_call(0, broken_store());
  due(office);
  const int calls = office.store.calls();
  REQUIRE(calls > 10);
  for (int nth = 1; nth <= calls; ++nth) {
    office.store.break_call(nth, broken_store());
    CAPTURE(nth);
    REQUIRE(code_of(app::list_due(office.ports())) == "record-damaged");
  }
}

}  // namespace loadlight::tests
