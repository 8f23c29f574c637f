#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::IndicatorLook;
using core::LoadName;
using core::Outcome;
using core::PackageState;
using core::Reason;
using core::WithdrawReason;

const LoadName kLoad{"S1", 1};

app::OpenRequest opening(const core::Package& package) {
  return {"CD", package.id.text(), "V-17", true, true, IndicatorLook::Changed, ""};
}

app::OpenOutcome outcome(OfficeAtWork& office, const app::OpenRequest& request) {
  return must(app::open_package(office.ports(), request)).outcome;
}

}  // namespace

TEST_CASE("A clear package is opened once, with its time and visit", "[R41][R43]") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  REQUIRE(outcome(office, opening(package)) == app::OpenOutcome::Opened);
  REQUIRE(office.now(package).state == PackageState::Opened);
  REQUIRE(office.now(package).opened_at == office.clock.now());
  REQUIRE(office.now(package).visit == "V-17");
  REQUIRE(outcome(office, opening(package)) == app::OpenOutcome::Refused);
}

TEST_CASE("A package that is not clear is refused, and the refusal leaves its trace") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  office.finish(kLoad);
  const auto reply = must(app::open_package(office.ports(), opening(packages.front())));
  REQUIRE(reply.outcome == app::OpenOutcome::Refused);
  REQUIRE(reply.check.verdict.has(Reason::LoadNotReleased));
  REQUIRE(office.now(packages.front()).state == PackageState::Loaded);
  REQUIRE(office.newest_event_kind() == "package-checked");
}

TEST_CASE("Whatever the eyes refuse withdraws the package instead of opening it", "[R39]") {
  struct Seen final {
    bool dry, intact;
    IndicatorLook look;
    WithdrawReason why;
  };
  for (const Seen& seen : {Seen{false, true, IndicatorLook::Changed, WithdrawReason::Wet},
                           Seen{true, false, IndicatorLook::Changed, WithdrawReason::Torn},
                           Seen{true, true, IndicatorLook::Unchanged, WithdrawReason::Indicator}}) {
    OfficeAtWork office;
    const core::Package package = office.released_package();
    app::OpenRequest request = opening(package);
    request.dry = seen.dry;
    request.intact = seen.intact;
    request.external_indicator = seen.look;
    const auto reply = must(app::open_package(office.ports(), request));
    REQUIRE(reply.outcome == app::OpenOutcome::Withdrawn);
    REQUIRE(reply.check.verdict.reasons() == std::vector{Reason::Withdrawn});
    REQUIRE(office.now(package).state == PackageState::Withdrawn);
    REQUIRE(office.now(package).withdrawn_because == seen.why);
    REQUIRE(office.check(package.payload).verdict.has(Reason::Withdrawn));
  }
}

TEST_CASE("A request that says nothing of the eyes opens nothing") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  app::OpenRequest request;
  request.operator_code = "CD";
  request.package = package.id.text();
  REQUIRE(outcome(office, request) == app::OpenOutcome::Withdrawn);
}

TEST_CASE("A visit reference that may be a name is refused before anything is written") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const std::size_t before = office.ledger_size();
  app::OpenRequest request = opening(package);
  for (const char* visit : {"SMITH", "J", "anna-1", "12 34", ""}) {
    request.visit = visit;
    CAPTURE(visit);
    REQUIRE(code_of(app::open_package(office.ports(), request)) == "bad-visit-reference");
  }
  REQUIRE(office.ledger_size() == before);
  REQUIRE(office.now(package).state == PackageState::Loaded);
}

TEST_CASE("An opening that is a fact already is recorded late, whatever the verdict") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  app::OpenRequest request = opening(packages.front());
  request.already_opened_why = "found open in the drawer";
  REQUIRE(outcome(office, request) == app::OpenOutcome::Opened);
  REQUIRE(office.now(packages.front()).state == PackageState::Opened);
}

TEST_CASE("A forged label opens nothing") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  std::string forged = package.payload;
  forged.back() = forged.back() == '0' ? '1' : '0';
  app::OpenRequest request = opening(package);
  request.package = forged;
  REQUIRE(outcome(office, request) == app::OpenOutcome::Refused);
  REQUIRE(office.now(package).state == PackageState::Loaded);
}

TEST_CASE("A chart's copy and a label of a later form open nothing, and the answer says what they are") {
  OfficeAtWork office;
  app::OpenRequest request = opening(office.released_package());
  for (const auto& [text, reason] :
       {std::pair{"LLC1.X", Reason::ChartCopy}, {"LL2.X", Reason::LabelVersionUnknown}}) {
    request.package = text;
    request.already_opened_why = "found open";
    const auto reply = must(app::open_package(office.ports(), request));
    REQUIRE(reply.outcome == app::OpenOutcome::Refused);
    REQUIRE(reply.check.verdict == core::Verdict::against({reason}));
  }
  request.package = "no label";
  REQUIRE(code_of(app::open_package(office.ports(), request)) == "bad-package-id");
}

TEST_CASE("An internal indicator that did not change opens an incident that holds its whole load") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad, 2);
  office.start(kLoad, packages);
  office.finish(kLoad);
  office.give_evidence(kLoad);
  office.release(kLoad);
  const std::string id = packages[0].id.text();
  const auto look = [&](IndicatorLook seen) {
    return app::record_internal_indicator(office.ports(), {"CD", id, seen});
  };
  REQUIRE(code_of(look(IndicatorLook::Changed)) == "package-wrong-state");
  must(office.open(packages[0]));
  const auto reply = must(look(IndicatorLook::Unchanged));
  REQUIRE(reply.incident);
  REQUIRE(reply.incident->covers(office.load(kLoad)));
  REQUIRE(office.check(packages[1].payload).verdict.reasons() == std::vector<Reason>{Reason::IncidentOpen});
  REQUIRE(code_of(look(IndicatorLook::Changed)) == "result-differs");
  REQUIRE_FALSE(must(look(IndicatorLook::Unchanged)).incident);
}

TEST_CASE("A withdrawn package stays withdrawn", "[R41]") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  must(app::withdraw_package(office.ports(), {"CD", package.id.text(), WithdrawReason::Dropped}));
  REQUIRE(office.check(package.payload).verdict.reasons() == std::vector<Reason>{Reason::Withdrawn});
  REQUIRE(code_of(app::withdraw_package(office.ports(), {"CD", package.id.text(), WithdrawReason::Wet})) ==
          "package-wrong-state");
  REQUIRE(must(office.open(package)).outcome == app::OpenOutcome::Refused);
}

TEST_CASE("Only packages in a load are shelved, all or none, on a shelf that is known") {
  OfficeAtWork office;
  const core::Package loaded = office.released_package();
  const core::Package labelled = office.print({"S1", 2}).front();
  const auto shelve = [&](std::vector<std::string> ids, const char* shelf) {
    return code_of(app::shelve_packages(office.ports(), {"CD", std::move(ids), shelf}));
  };
  REQUIRE(shelve({loaded.id.text()}, "NOWHERE") == "code-unknown");
  REQUIRE(shelve({loaded.id.text(), labelled.id.text()}, "SHELF1") == "package-wrong-state");
  REQUIRE_FALSE(office.now(loaded).location);
  REQUIRE(shelve({loaded.id.text()}, "SHELF1") == "ok");
  REQUIRE(office.now(loaded).location == "SHELF1");
  REQUIRE(office.check(loaded.payload).location == "SHELF1");
}

TEST_CASE("Nobody writes without a name that is known and current") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  app::OpenRequest request = opening(package);
  request.operator_code = "";
  REQUIRE(code_of(app::open_package(office.ports(), request)) == "operator-missing");
  request.operator_code = "ZZ";
  REQUIRE(code_of(app::open_package(office.ports(), request)) == "operator-unknown");
  REQUIRE(office.now(package).state == PackageState::Loaded);
}

TEST_CASE("Whichever call of the store fails, nothing is opened") {
  OfficeAtWork whole;
  const core::Package package = whole.released_package();
  whole.store.break_call(0, broken_store());
  must(whole.open(package));
  const int calls = whole.store.calls();
  for (int nth = 1; nth <= calls; ++nth) {
    OfficeAtWork office;
    const core::Package same = office.released_package();
    const std::size_t before = office.ledger_size();
    office.store.break_call(nth, broken_store());
    const auto reply = office.open(same);
    CAPTURE(nth);
    REQUIRE((!reply || reply->outcome == app::OpenOutcome::Refused));
    REQUIRE(office.now(same).state == PackageState::Loaded);
    REQUIRE(office.ledger_size() == before + (reply ? 1 : 0));  // a refusal leaves its trace
    REQUIRE(must(office.open(same)).outcome == app::OpenOutcome::Opened);
  }
}

TEST_CASE("Whichever call of the store fails, an internal indicator is recorded whole or not at all") {
  require_all_or_nothing(
      [](OfficeAtWork& office) {
        const core::Package package = office.released_package();
        must(office.open(package));
        return package;
      },
      [](OfficeAtWork& office, const core::Package& package) {
        return app::record_internal_indicator(office.ports(),
                                              {"CD", package.id.text(), IndicatorLook::Unchanged})
            .ok();
      });
}

TEST_CASE("Whichever call of the store fails, a withdrawal is recorded whole or not at all") {
  require_all_or_nothing(
      [](OfficeAtWork& office) { return office.released_package(); },
      [](OfficeAtWork& office, const core::Package& package) {
        return app::withdraw_package(office.ports(), {"CD", package.id.text(), WithdrawReason::Torn}).ok();
      });
}

}  // namespace loadlight::tests
