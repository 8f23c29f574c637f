#include "loadlight/app/group_view.h"

#include <map>

#include "app/incident_scene.h"

namespace loadlight::tests {
namespace {

// A store that another owns.
class Lent final : public port::Store {
 public:
  explicit Lent(port::Store& store) : store_(store) {}
  core::Result<std::unique_ptr<port::Unit>> begin(port::Access access) override { return store_.begin(access); }
  core::Result<void> each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) override {
    return store_.each_entry(visit);
  }
  core::Result<std::vector<port::Alteration>> verify(const std::function<bool(const port::VerifyProgress&)>& goes_on) override {
    return store_.verify(goes_on);
  }

 private:
  port::Store& store_;
};

struct ThreeOffices final {
  std::map<std::string, OfficeAtWork> offices;
  std::string away;  // cannot be read

  ThreeOffices() {
    for (const char* name : {"East", "North", "West"}) offices[name];
  }
  app::Group group() {
    app::Group group{{}, {}, {}, offices.begin()->second.clock};
    for (const auto& each : offices) group.offices.push_back(each.first);
    group.open_store = [this](const std::string& name) -> core::Result<std::unique_ptr<port::Store>> {
      if (name == away) return broken_store();
      return std::unique_ptr<port::Store>{std::make_unique<Lent>(offices[name].store)};
    };
    group.open_zone = [](const std::string&) -> core::Result<std::unique_ptr<port::Zone>> {
      return std::unique_ptr<port::Zone>{std::make_unique<UtcZone>()};
    };
    return group;
  }
};

std::vector<std::string> names_of(const app::OfficeFailures& failures) {
  std::vector<std::string> names;
  for (const auto& each : failures) names.push_back(each.office);
  return names;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("A lot is recalled in every office of the group, and in one that was away when it is said again") {
  ThreeOffices three;
  std::map<std::string, core::Package> packages;
  for (auto& [name, office] : three.offices) packages.emplace(name, office.released_package());
  three.away = "North";
  std::map<std::string, app::LotRecall> done;
  const auto say = [&] {
    done.clear();
    return names_of(app::recall_lot_in_group(three.group(), {"CD", "CI7", "its maker says so"},
                                             [&](const std::string& office, const app::LotRecall& recall) { done[office] = recall; }));
  };
  CHECK(say() == Names{"North"});
  CHECK(done.size() == 2);
  const auto outcome = [&](const std::string& name) {
    return three.offices[name].check(packages.at(name).payload).verdict.outcome();
  };
  CHECK(outcome("East") == core::Outcome::DoNotUse);
  CHECK(outcome("North") == core::Outcome::Clear);
  three.away.clear();
  CHECK(say().empty());
  CHECK(done.at("North").added);
  CHECK_FALSE(done.at("East").added);
  for (const char* name : {"East", "North", "West"}) CHECK(outcome(name) == core::Outcome::DoNotUse);
}

TEST_CASE("An office that cannot be read is told of and the others are answered") {
  ThreeOffices three;
  must(grow(three.offices["West"], three.offices["West"].released_package().load));
  three.offices["East"].released_package();
  three.away = "North";
  Names seen;
  const auto visit = [&](const std::string& office, const auto& items) {
    for (std::size_t i = 0; i < items.size(); ++i) seen.push_back(office);
  };
  CHECK(names_of(app::incidents_in_group(three.group(), visit)) == Names{"North"});
  CHECK(seen == Names{"West"});
  CHECK(names_of(app::due_in_group(three.group(), visit)) == Names{"North"});
  CHECK(std::count(seen.begin(), seen.end(), "West") > 1);
  CHECK(names_of(app::consumables_in_group(three.group(), visit)) == Names{"North"});
}

TEST_CASE("Loads that failed are told by office and sterilizer") {
  ThreeOffices three;
  OfficeAtWork& west = three.offices["West"];
  west.start({"S1", 1}, west.print({"S1", 1}));
  must(app::finish_load(west.ports(), {"CD", {"S1", 1}, "door opened", std::nullopt}));
  west.start({"S1", 2}, west.print({"S1", 2}));
  Names failed, open;
  const auto into = [](Names& names) {
    return [&names](const std::string& office, const std::vector<core::Load>& loads) {
      for (const auto& load : loads) names.push_back(office + " " + load.name.text());
    };
  };
  CHECK(app::loads_in_group(three.group(), app::GroupLoads::Failed, into(failed)).empty());
  CHECK(app::loads_in_group(three.group(), app::GroupLoads::Undecided, into(open)).empty());
  CHECK(failed == Names{"West S1-1"});
  CHECK(open == Names{"West S1-2"});
}

}  // namespace loadlight::tests
