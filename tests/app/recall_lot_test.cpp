#include "loadlight/app/recall_lot.h"

#include <set>

#include "app/incident_scene.h"
#include "loadlight/app/list_due.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::tests {
namespace {

using core::IncidentCause;
using core::LoadState;
using core::Outcome;
using core::Reason;
using Reasons = std::vector<Reason>;

app::LotRecall recall(OfficeAtWork& office, const std::string& lot = "CI7") {
  return must(app::recall_lot(office.ports(), {"CD", lot, "its maker says so"}));
}

Reasons reasons(OfficeAtWork& office, const core::Package& package) {
  return office.check(package.payload).verdict.reasons();
}

std::set<std::string> loads_of(const app::LotRecall& recall) {
  std::set<std::string> names;
  for (const auto& each : recall.loads) names.insert(each.load.name.text());
  return names;
}

std::set<std::string> packages_of(const app::LotRecall& recall) {
  std::set<std::string> ids;
  for (const auto& each : recall.packages) ids.insert(each.package.id.text());
  return ids;
}

void read_indicator(OfficeAtWork& office, const core::LoadName& load, const std::string& lot) {
  app::IndicatorRequest request;
  request.operator_code = "CD";
  request.load = load;
  request.lot = lot;
  request.expires = *core::CivilDate::from(2030, 1, 1);
  request.passed = true;
  must(app::record_indicator(office.ports(), request));
}

// One package in a load that was released on an indicator of this lot.
core::Package released_on(OfficeAtWork& office, int number, const std::string& lot) {
  const core::LoadName load{"S1", number};
  const auto packages = office.print(load);
  office.start(load, packages);
  office.finish(load);
  must(app::record_readings(office.ports(), {"CD", load, {132.5, 134, 4.5, 293, 22}, ""}));
  read_indicator(office, load, lot);
  REQUIRE(office.release(load).load.state == LoadState::Released);
  return office.now(packages.front());
}

void enter_pouches(OfficeAtWork& office, const std::string& lot) {
  must(app::add_entries(office.ports(), "AB", app::OfficeTable::Consumables,
                        {{{"lot", lot}, {"kind", "pouch"}, {"name", "Pouch 90 x 230"}, {"expires", "2031-01-01"}}}));
}

}  // namespace

TEST_CASE("Every load that was judged by the lot is called back and no other, with one incident a row of them") {
  OfficeAtWork office;
  std::vector<core::Package> packages;
  for (const auto& [number, lot] : {std::pair{1, "BAD"}, {2, "BAD"}, {3, "GOOD"}, {4, "BAD"}}) {
    packages.push_back(released_on(office, number, lot));
  }
  const auto done = recall(office, "BAD");
  CHECK(done.known);
  CHECK(done.added);
  CHECK(done.incidents == std::vector{1, 2});
  CHECK(loads_of(done) == std::set<std::string>{"S1-1", "S1-2", "S1-4"});
  CHECK(done.packages.size() == 3);
  for (const int bad : {0, 1, 3}) {
    CHECK(reasons(office, packages[static_cast<std::size_t>(bad)]) == Reasons{Reason::LoadRecalled, Reason::IncidentOpen});
  }
  CHECK(office.check(packages[2].payload).verdict.outcome() == Outcome::Clear);
  CHECK(is_in_service(office, "S1"));
  CHECK(view(office, 1).incident.cause == IncidentCause::FaultyIndicator);
}

TEST_CASE("A lot that is recalled again adds what came since and nothing else") {
  OfficeAtWork office;
  released_on(office, 1, "BAD");
  const auto first = recall(office, "BAD");
  const auto size = office.ledger_size();
  const auto again = recall(office, "BAD");
  CHECK_FALSE(again.added);
  CHECK(office.ledger_size() == size);
  CHECK(again.recalled_at == first.recalled_at);
  CHECK(packages_of(again) == packages_of(first));
  CHECK(loads_of(again) == loads_of(first));
  office.start({"S1", 2}, office.print({"S1", 2}));
  office.finish({"S1", 2});
  read_indicator(office, {"S1", 2}, "BAD");
  const auto since = recall(office, "BAD");
  CHECK(since.added);
  CHECK(since.incidents == std::vector{1, 2});
  CHECK(office.load({"S1", 2}).state == LoadState::Recalled);
}

TEST_CASE("Nothing is released on a recalled lot until one of another lot stands in its place") {
  OfficeAtWork office;
  CHECK_FALSE(recall(office, "BAD").known);  // not on record, and barred all the same
  office.start({"S1", 1}, office.print({"S1", 1}));
  office.finish({"S1", 1});
  must(app::record_readings(office.ports(), {"CD", {"S1", 1}, {132.5, 134, 4.5, 293, 22}, ""}));
  read_indicator(office, {"S1", 1}, "BAD");
  const auto refused = office.release({"S1", 1});
  CHECK(refused.verdict.reasons() == Reasons{Reason::ConsumableRecalled});
  CHECK(refused.load.state == LoadState::Finished);
  read_indicator(office, {"S1", 1}, "GOOD");
  CHECK(office.release({"S1", 1}).load.state == LoadState::Released);
}

TEST_CASE("A biological indicator of a recalled lot calls its load back, by its control too") {
  OfficeAtWork office;
  const auto tested = office.released_package({"S1", 1});
  const auto other = office.released_package({"S1", 2});
  must(stay_clear(office, {"S1", 1}));
  CHECK(loads_of(recall(office, "BI3")) == std::set<std::string>{"S1-1"});
  CHECK(office.check(tested.payload).verdict.outcome() == Outcome::DoNotUse);
  CHECK(office.check(other.payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("What stood on a daily test of a recalled lot is called back, up to the next test") {
  OfficeAtWork office{"us-cdc-2003", 180, DailyTests::AsTheProfileAsks};
  const auto test_with = [&](const std::string& lot) {
    const auto load = must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", core::LoadPurpose::BowieDick, {}, {}}));
    must(app::start_load(office.ports(), {"CD", load.name}));
    office.finish(load.name);
    app::IndicatorRequest sheet{"CD", load.name, core::IndicatorPlace::ProcessChallenge, 2, lot,
                                *core::CivilDate::from(2030, 1, 1), true, {}, {}, {}, ""};
    must(app::record_indicator(office.ports(), sheet));
    REQUIRE(office.release(load.name).load.state == LoadState::Released);
    return load.name.number;
  };
  const int first = test_with("SHEET1");
  const auto leaning = office.released_package({"S1", first + 1});
  const int second = test_with("SHEET2");
  const auto other = office.released_package({"S1", second + 1});
  recall(office, "SHEET1");
  CHECK(office.check(leaning.payload).verdict.outcome() == Outcome::DoNotUse);
  CHECK(office.check(other.payload).verdict.outcome() == Outcome::Clear);
  recall(office, "SHEET2");
  const core::LoadName next{"S1", second + 2};
  office.start(next, office.print(next));
  office.finish(next);
  office.give_evidence(next);
  CHECK(office.release(next).verdict.reasons() == Reasons{Reason::DailyTestMissing});
}

TEST_CASE("Pouches that were labelled while their lot was in use are called back, wherever they are") {
  OfficeAtWork office;
  const auto before = office.released_package({"S1", 1});
  office.clock.turn_days(1);
  enter_pouches(office, "P9");
  const auto shelved = office.released_package({"S1", 2});
  const auto opened = office.released_package({"S1", 3});
  must(office.open(opened));
  const auto labelled = office.print({"S1", 4}).front();
  const auto done = recall(office, "P9");
  CHECK(packages_of(done) == std::set<std::string>{shelved.id.text(), opened.id.text(), labelled.id.text()});
  CHECK(loads_of(done) == std::set<std::string>{"S1-2", "S1-3"});
  CHECK(reasons(office, shelved) == Reasons{Reason::PackageRecalled, Reason::IncidentOpen});
  CHECK(office.check(before.payload).verdict.outcome() == Outcome::Clear);
  CHECK(office.now(labelled).recalled);
  CHECK_FALSE(office.now(opened).recalled);
  for (const auto& each : done.packages) {
    if (each.package.id == opened.id) CHECK(each.package.visit == "V-1");
  }
  const auto size = office.ledger_size();
  office.clock.turn_days(1);
  const auto later = office.released_package({"S1", 5});  // in pouches of another lot
  CHECK(office.check(later.payload).verdict.outcome() == Outcome::Clear);
  const auto grown = office.ledger_size();
  CHECK_FALSE(recall(office, "P9").added);
  CHECK(office.ledger_size() == grown);
  CHECK(grown > size);
}

TEST_CASE("A pouch lot that was used up calls back nothing that was labelled after that day") {
  OfficeAtWork office;
  enter_pouches(office, "P9");
  const auto in_it = office.released_package({"S1", 1});
  must(app::retire_entry(office.ports(), "AB", app::OfficeTable::Consumables, "P9"));
  office.clock.turn_days(1);
  const auto after = office.released_package({"S1", 2});
  CHECK(packages_of(recall(office, "P9")) == std::set<std::string>{in_it.id.text()});
  CHECK(office.check(after.payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("The incident of a lot ends when the lot is set aside and every package accounted for") {
  OfficeAtWork office;
  const auto package = released_on(office, 1, "BAD");
  recall(office, "BAD");
  CHECK(close(office) == "incident-unfinished");
  CHECK(step(office, "set-lot-aside", "done") == "ok");
  CHECK(step(office, "recall-everything", "recalled") == "ok");
  CHECK(close(office) == "incident-unfinished");
  CHECK(account(office, package, core::Disposition::Withdrawn) == "ok");
  CHECK(close(office) == "ok");
  CHECK_FALSE(recall(office, "BAD").added);  // closed, and not opened again
}

TEST_CASE("A lot without a code or a reason is not recalled, nor by nobody, nor while the clock is behind") {
  OfficeAtWork office;
  const auto code = [&](app::RecallLotRequest request) { return code_of(app::recall_lot(office.ports(), request)); };
  CHECK(code({"CD", "", "why"}) == "bad-value");
  CHECK(code({"CD", std::string(41, 'x'), "why"}) == "bad-value");
  CHECK(code({"CD", "BAD", ""}) == "reason-missing");
  CHECK(code({"", "BAD", "why"}) == "operator-missing");
  office.clock.turn(std::chrono::minutes{-60});
  CHECK(code({"CD", "BAD", "why"}) == "clock-behind-record");
}

TEST_CASE("Whichever call of the store fails, a lot is recalled whole or not at all") {
  const auto prepare = [](OfficeAtWork& office) {
    enter_pouches(office, "BAD");
    return released_on(office, 1, "BAD");
  };
  require_all_or_nothing(prepare, [](OfficeAtWork& office, const core::Package&) {
    return app::recall_lot(office.ports(), {"CD", "BAD", "its maker says so"}).ok();
  });
}

}  // namespace loadlight::tests
