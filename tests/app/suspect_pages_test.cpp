#include "loadlight/app/suspect_pages.h"

#include <algorithm>

#include "app/incident_scene.h"
#include "loadlight/app/print_recall.h"

namespace loadlight::tests {
namespace {

using core::Disposition;

// Four loads of S1 of which the second grew; the third package was checked before.
std::vector<core::Package> in_doubt(OfficeAtWork& office) {
  const auto packages = released_in(office, {1, 2, 3, 4});
  office.check(packages[2].payload);
  must(grow(office, {"S1", 2}));
  return packages;
}

std::vector<core::PackageId> ids(const std::vector<app::Suspect>& suspects) {
  std::vector<core::PackageId> list;
  for (const app::Suspect& suspect : suspects) list.push_back(suspect.package.id);
  return list;
}

}  // namespace

TEST_CASE("An incident's standing is its whole view but for the packages, which it counts") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  REQUIRE(account(office, packages[0], Disposition::Withdrawn) == "ok");
  const auto standing = must(app::incident_standing(office.ports(), 1));
  const auto whole = view(office);
  CHECK(standing.incident == whole.incident);
  CHECK(standing.to_close == whole.to_close);
  CHECK(standing.to_return == whole.to_return);
  CHECK(standing.loads.size() == whole.loads.size());
  CHECK(standing.steps.size() == whole.steps.size());
  CHECK(standing.suspects == 4);
  CHECK(standing.unaccounted == 3);
  REQUIRE(standing.places.size() == 1);
  CHECK(standing.places[0].location.empty());
  CHECK(standing.places[0].packages == 4);
  CHECK(standing.places[0].unaccounted == 3);
  CHECK(app::incident_standing(office.ports(), 2).failure().code == core::FailureCode::IncidentUnknown);
}

TEST_CASE("Pages of suspects put together are all of them in order") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  std::vector<core::PackageId> together;
  for (int first = 0; first < 6; first += 3) {
    const auto page = must(app::suspects_of(office.ports(), {1, std::nullopt, false, {first, 3}}));
    CHECK(page.total == 4);
    for (const auto& id : ids(page.suspects)) together.push_back(id);
  }
  CHECK(together == ids(view(office).suspects));
  REQUIRE(account(office, packages[1], Disposition::Reprocessed) == "ok");
  const auto open = must(app::suspects_of(office.ports(), {1, std::nullopt, true, {}}));
  CHECK(open.total == 3);
  CHECK(must(app::suspects_of(office.ports(), {1, "SHELF9", false, {}})).total == 0);
  CHECK(must(app::suspects_of(office.ports(), {1, "", false, {}})).total == 4);
}

TEST_CASE("One suspect is found by its id and by its label, and a package outside the range is none") {
  OfficeAtWork office;
  const auto packages = released_in(office, {1, 2, 3});
  must(stay_clear(office, {"S1", 1}));
  must(grow(office, {"S1", 2}));
  CHECK(must(app::find_suspect(office.ports(), 1, packages[1].id.text())).package.id == packages[1].id);
  CHECK(must(app::find_suspect(office.ports(), 1, packages[1].payload)).package.id == packages[1].id);
  const auto before = app::find_suspect(office.ports(), 1, packages[0].id.text());
  CHECK(before.failure().code == core::FailureCode::NotSuspect);
}

TEST_CASE("Earlier Clears come a page at a time, as the whole view has them") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  const auto page = must(app::earlier_clears_of(office.ports(), 1, {}));
  REQUIRE(page.total == 1);
  CHECK(page.clears[0].package == packages[2].id);
  CHECK(view(office).earlier_clears.size() == 1);
  CHECK(must(app::earlier_clears_of(office.ports(), 1, {1, 10})).clears.empty());
}

TEST_CASE("The recall's table has a line for each suspect under its headings") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  const std::string csv = must(app::recall_csv(office.ports(), 1));
  CHECK(csv.starts_with("package,load,disposition,location,visit,contents,called_back"));
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 5);
  for (const auto& package : packages) CHECK(csv.find(package.id.text() + ",") != std::string::npos);
}

}  // namespace loadlight::tests
