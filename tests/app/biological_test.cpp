#include "app/incident_scene.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::tests {
namespace {

using core::BiologicalControl;
using core::BiologicalTest;
using core::LoadName;
using core::LoadState;
using core::Note;
using core::Reason;

const LoadName kLoad{"S1", 1};

app::PlaceBiologicalRequest placing() {
  app::PlaceBiologicalRequest request;
  request.operator_code = "CD";
  request.load = kLoad;
  request.lot = request.control_lot = "BI3";
  return request;
}

app::BiologicalRequest result(BiologicalTest test, BiologicalControl control, std::string control_lot,
                              std::string why = "") {
  app::BiologicalRequest request;
  request.operator_code = "CD";
  request.load = kLoad;
  request.lot = "BI3";
  request.test = test;
  request.control = control;
  request.control_lot = std::move(control_lot);
  request.why = std::move(why);
  return request;
}

// A finished load with its evidence, and a biological indicator aboard.
core::Package tested(OfficeAtWork& office, const std::string& contents) {
  const auto packages = office.print(kLoad, 1, contents);
  office.start(kLoad, packages);
  must(app::place_biological(office.ports(), placing()));
  office.finish(kLoad);
  office.give_evidence(kLoad);
  return packages[0];
}

core::Package tested(OfficeAtWork& office) {
  return tested(office, "EXAM");
}

core::Result<app::IndicatorReply> challenge(OfficeAtWork& office, int type,
                                            std::optional<double> celsius = {},
                                            std::optional<double> minutes = {}) {
  app::IndicatorRequest request;
  request.operator_code = "CD";
  request.load = kLoad;
  request.place = core::IndicatorPlace::ProcessChallenge;
  request.type = type;
  request.lot = "CI9";
  request.expires = *core::CivilDate::from(2030, 1, 1);
  request.passed = true;
  request.stated_celsius = celsius;
  request.stated_minutes = minutes;
  return app::record_indicator(office.ports(), request);
}

bool has(const core::Verdict& verdict, Note note) {
  const auto& notes = verdict.notes();
  return std::find(notes.begin(), notes.end(), note) != notes.end();
}

core::Verdict shown(OfficeAtWork& office) {
  return must(app::show_load(office.ports(), kLoad)).verdict;
}

}  // namespace

TEST_CASE("A placed indicator is due from the run, and its result is pending and then overdue as a note",
          "[R24]") {
  OfficeAtWork office;
  tested(office);
  const auto reply = office.release(kLoad);
  REQUIRE(reply.load.state == LoadState::Released);
  REQUIRE(has(reply.verdict, Note::BiologicalPending));
  REQUIRE_FALSE(has(reply.verdict, Note::BiologicalOverdue));
  const auto run = must(must(office.store.begin(port::Access::Read))->evidence().find_run(1));
  REQUIRE(run->due_at == *office.load(kLoad).started_at + std::chrono::hours{24});
}

TEST_CASE("A result that is not there when it is due is noted as overdue", "[R24]") {
  OfficeAtWork office;
  tested(office);
  office.clock.turn_days(2);
  REQUIRE(has(office.release(kLoad).verdict, Note::BiologicalOverdue));
}

TEST_CASE("An indicator moves through incubator and post, and by mail it has a service and a week") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad));
  auto by_mail = placing();
  by_mail.reader = core::BiologicalReader::MailIn;
  REQUIRE(code_of(app::place_biological(office.ports(), by_mail)) == "bad-value");
  by_mail.service = "Northern Spore Service";
  const auto run = must(app::place_biological(office.ports(), by_mail));
  REQUIRE(run.due_at == *office.load(kLoad).started_at + std::chrono::hours{168});
  const auto sent = must(app::move_biological(office.ports(), {"CD", run.number, false, true}));
  REQUIRE(sent.sent_on == office.zone.local_date(office.clock.now()));
  REQUIRE(must(app::move_biological(office.ports(), {"CD", run.number, true, false})).incubated_at ==
          office.clock.now());
  REQUIRE(code_of(app::move_biological(office.ports(), {"CD", 9, true, false})) == "indicator-unknown");
  auto nameless = placing();
  nameless.lot = "";
  REQUIRE(code_of(app::place_biological(office.ports(), nameless)) == "bad-value");
}

// MMWR 52(RR-17) 2003 VI.F.6: a control of the same lot.
TEST_CASE("A control of another lot, or one that did not grow, makes a result invalid and no pass", "[R25]") {
  for (auto [control, lot] :
       {std::pair{BiologicalControl::Growth, "BI4"}, std::pair{BiologicalControl::NoGrowth, "BI3"},
        std::pair{BiologicalControl::NotReported, "BI3"}}) {
    OfficeAtWork office;
    tested(office, "IMPL");
    must(app::record_biological(office.ports(), result(BiologicalTest::NoGrowth, control, lot)));
    const auto reply = office.release(kLoad);
    CAPTURE(lot);
    REQUIRE(reply.load.state == LoadState::Finished);
    REQUIRE(reply.verdict.has(Reason::BiologicalInvalid));
  }
}

TEST_CASE("A result entered twice differently needs a reason, keeps both, and growth is never outvoted") {
  OfficeAtWork office;
  tested(office);
  const auto record = [&](BiologicalTest test, const char* why) {
    return app::record_biological(office.ports(), result(test, BiologicalControl::Growth, "BI3", why));
  };
  must(record(BiologicalTest::Growth, ""));
  const std::size_t before = office.ledger_size();
  must(record(BiologicalTest::Growth, ""));
  REQUIRE(office.ledger_size() == before);  // the same again says nothing new
  REQUIRE(code_of(record(BiologicalTest::NoGrowth, "")) == "result-differs");
  must(record(BiologicalTest::NoGrowth, "looked at the wrong vial"));
  REQUIRE(must(app::show_load(office.ports(), kLoad)).biologicals.size() == 2);
  REQUIRE(office.release(kLoad).verdict.has(Reason::BiologicalPositive));
}

TEST_CASE("A result for a load that had no indicator is taken, and said to have none") {
  OfficeAtWork office;
  office.released_package();
  REQUIRE(must(stay_clear(office, kLoad)).was_not_placed);
}

TEST_CASE("A result of another lot than was placed needs a reason") {
  OfficeAtWork office;
  tested(office);
  auto other = result(BiologicalTest::NoGrowth, BiologicalControl::Growth, "BI9");
  other.lot = "BI9";
  REQUIRE(code_of(app::record_biological(office.ports(), other)) == "result-differs");
  other.why = "the lot was noted wrong";
  REQUIRE(code_of(app::record_biological(office.ports(), other)) == "ok");
}

// Canadian Dental Association, Essentials 2020 issue 4 p. 28.
TEST_CASE("A tested load waits in Ontario, or is released early by a type 5 or 6 without implants", "[R26]") {
  OfficeAtWork waiting{"ontario"};
  tested(waiting);
  REQUIRE(waiting.release(kLoad).load.state == LoadState::Quarantined);
  for (int type : {5, 6}) {
    OfficeAtWork office{"ontario"};
    tested(office);
    must(type == 5 ? challenge(office, 5) : challenge(office, 6, 132, 4));
    const auto reply = office.release(kLoad);
    REQUIRE(reply.load.state == LoadState::Released);
    REQUIRE(has(reply.verdict, Note::ReleasedByIndicator));
  }
  OfficeAtWork implants{"ontario"};
  tested(implants, "IMPL");
  must(challenge(implants, 5));
  REQUIRE(implants.release(kLoad).load.state == LoadState::Quarantined);
}

TEST_CASE("Where the profile does not allow it no indicator releases early", "[R26]") {
  OfficeAtWork office;
  office.set("tested-load-waits", "yes");
  tested(office);
  must(challenge(office, 5));
  REQUIRE(office.release(kLoad).load.state == LoadState::Quarantined);
}

// ISO 11140-1:2014 as reported: one stated program.
TEST_CASE("A type 6 indicator that states another program is refused", "[R36]") {
  OfficeAtWork office;
  tested(office);
  REQUIRE(code_of(challenge(office, 6, 134, 3.5)) == "indicator-states-another");
  REQUIRE(code_of(challenge(office, 6, 132, std::nullopt)) == "indicator-states-another");
  REQUIRE(code_of(challenge(office, 6, 132, 4)) == "ok");
}

// MMWR 52(RR-17) 2003 VI.F.7; CDC: early release as an emergency, documented.
TEST_CASE("An implant load is quarantined until a valid negative, or released by two persons with a reason",
          "[R23]") {
  OfficeAtWork office;
  const auto package = tested(office, "IMPL");
  REQUIRE(office.release(kLoad).load.state == LoadState::Quarantined);
  REQUIRE(office.check(package.payload).verdict.has(Reason::LoadQuarantined));
  REQUIRE(code_of(app::release_load(office.ports(), {"CD", kLoad, "no other", "CD"})) ==
          "operator-not-current");
  OfficeAtWork negative;
  tested(negative, "IMPL");
  must(stay_clear(negative, kLoad));
  REQUIRE(negative.release(kLoad).load.state == LoadState::Released);
  const auto emergency = must(app::release_load(office.ports(), {"CD", kLoad, "no other", "AB"}));
  REQUIRE(emergency.load.emergency_second == "AB");
  REQUIRE(has(shown(office), Note::ReleasedAsEmergency));
}

TEST_CASE("The lot's own date counts where it is earlier than the one that was typed in", "[R37]") {
  OfficeAtWork office;
  must(app::import_entries(office.ports(), "AB", app::OfficeTable::Consumables,
                           "lot,kind,name,expires\nCI7,chemical,Strips,2026-11-24\n"));
  tested(office);
  const auto reply = office.release(kLoad);
  REQUIRE(reply.load.state == LoadState::Finished);
  REQUIRE(reply.verdict.reasons() == std::vector{Reason::ConsumableExpired});
}

TEST_CASE("An expired biological indicator holds its load, and on its last day it does not", "[R37]") {
  for (const char* expires : {"2026-11-24", "2026-11-25"}) {
    OfficeAtWork office;
    must(app::import_entries(office.ports(), "AB", app::OfficeTable::Consumables,
                             std::string{"lot,kind,name,expires\nBI3,biological,Spores,"} + expires + "\n"));
    tested(office);
    CAPTURE(expires);
    REQUIRE(office.release(kLoad).verdict.has(Reason::ConsumableExpired) ==
            (std::string{expires} == "2026-11-24"));
  }
}

TEST_CASE("A test load carries no biological indicator") {
  OfficeAtWork office;
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", core::LoadPurpose::BowieDick, 1, {}}));
  REQUIRE(code_of(app::place_biological(office.ports(), placing())) == "indicator-unfit");
}

TEST_CASE("Whichever call of the store fails, an indicator is placed and moved whole or not at all") {
  const auto running = [](OfficeAtWork& office) {
    office.start(kLoad, office.print(kLoad));
    return 0;
  };
  const auto with_indicator = [](OfficeAtWork& office) { return tested(office); };
  require_all_or_nothing(running, [](OfficeAtWork& office, int) {
    return app::place_biological(office.ports(), placing()).ok();
  });
  require_all_or_nothing(with_indicator, [](OfficeAtWork& office, const core::Package&) {
    return app::move_biological(office.ports(), {"CD", 1, true, false}).ok();
  });
  require_all_or_nothing(with_indicator, [](OfficeAtWork& office, const core::Package&) {
    return stay_clear(office, kLoad).ok();
  });
}

}  // namespace loadlight::tests
