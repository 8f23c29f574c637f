#include "loadlight/app/package_history.h"

#include <algorithm>

#include "app/office_at_work.h"
#include "loadlight/app/change_labels.h"
#include "loadlight/app/shelf_tag.h"

namespace loadlight::tests {
namespace {

using core::EventKind;
using core::LoadName;

app::PackageHistory history_of(OfficeAtWork& office, const core::Package& package) {
  const auto unit = must(office.store.begin(port::Access::Read));
  const auto history = must(app::package_history(*unit, package.id));
  REQUIRE(history);
  return *history;
}

std::vector<EventKind> kinds(const app::PackageHistory& history) {
  std::vector<EventKind> kinds;
  for (const auto& event : history.events) kinds.push_back(event.kind);
  return kinds;
}

int count(const app::PackageHistory& history, EventKind kind) {
  const auto all = kinds(history);
  return static_cast<int>(std::count(all.begin(), all.end(), kind));
}

}  // namespace

TEST_CASE("A package's history holds its own events and those of its load, in the ledger's order") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.check_typed(package.id.text());
  must(office.open(package));
  const auto history = history_of(office, package);
  CHECK(kinds(history) ==
        std::vector{EventKind::LabelsPrinted, EventKind::LoadOpened, EventKind::PackagesAdded,
                    EventKind::LoadStarted, EventKind::LoadFinished, EventKind::ReadingsRecorded,
                    EventKind::IndicatorRead, EventKind::LoadReleased, EventKind::PackageChecked,
                    EventKind::PackageOpened});
  CHECK(history.contents_name == must(must(office.store.begin(port::Access::Read))->contents().find("EXAM"))->name);
  CHECK(history.load->state == core::LoadState::Released);
  CHECK(history.run->number == package.print_run);
  const auto read = std::find_if(history.events.begin(), history.events.end(),
                                 [](const auto& event) { return event.kind == EventKind::IndicatorRead; });
  CHECK(read->details == core::Details{{"place", "external"}, {"result", "pass"}});
}

TEST_CASE("Of what was done to several packages, a history tells only what names its own") {
  OfficeAtWork office;
  const LoadName load{"S1", 1};
  const auto ours = office.print(load);
  const auto others = office.print(load, 2);
  const auto history = history_of(office, ours.front());
  CHECK(count(history, EventKind::LabelsPrinted) == 1);
  must(app::void_labels(office.ports(), {"AB", {ours.front().id.text(), others.back().id.text()}, "torn"}));
  CHECK(count(history_of(office, ours.front()), EventKind::LabelVoided) == 1);
  CHECK(count(history_of(office, others.back()), EventKind::LabelVoided) == 1);
  CHECK(count(history_of(office, others.front()), EventKind::LabelVoided) == 0);
}

TEST_CASE("A package put on a shelf, and the incident over its load, stand in its history") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const auto unit = must(office.store.begin(port::Access::Read));
  const auto places = must(unit->locations().all());
  if (!places.empty()) {
    must(app::shelve_packages(office.ports(), {"CD", {package.id.text()}, places.front().code}));
    CHECK(count(history_of(office, package), EventKind::PackagesShelved) == 1);
  }
  must(office.biological({"S1", 1}, core::BiologicalTest::Growth, core::BiologicalControl::Growth));
  const auto history = history_of(office, package);
  CHECK(count(history, EventKind::IncidentOpened) == 1);
  CHECK(history.incidents.size() == 1);
}

TEST_CASE("Nobody has a history of a package that is not in the record") {
  OfficeAtWork office;
  const auto unit = must(office.store.begin(port::Access::Read));
  CHECK_FALSE(must(app::package_history(*unit, *core::PackageId::parse_exact("000000000V"))));
}

TEST_CASE("A place is known by its code and by its tag, and a tag of another office by neither") {
  OfficeAtWork office;
  const auto unit = must(office.store.begin(port::Access::Read));
  const auto places = must(unit->locations().all());
  const auto named = [&](const std::string& text) { return code_of(app::location_of(office.ports(), *unit, text)); };
  CHECK(named("NOWHERE") == "code-unknown");
  CHECK(named("") == "code-unknown");
  for (const core::Location& place : places) {
    const std::string unsigned_tag = core::unsigned_shelf_tag(place.code);
    CHECK(named(place.code) == (place.retired_on ? "code-retired" : "ok"));
    CHECK(named(unsigned_tag + office.keyring.mac(unsigned_tag)) == (place.retired_on ? "code-retired" : "ok"));
    CHECK(named(unsigned_tag + "0000000000000") == "shelf-tag-not-authentic");
  }
}

}  // namespace loadlight::tests
