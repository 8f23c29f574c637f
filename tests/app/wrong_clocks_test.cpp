#include <algorithm>

#include "app/incident_scene.h"
#include "loadlight/app/accept_clock.h"
#include "loadlight/app/change_labels.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/sign_in.h"
#include "loadlight/core/clock_doubt.h"

#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::Note;
using core::Outcome;
using core::Reason;
using std::chrono::minutes;

std::vector<Reason> reasons_of(OfficeAtWork& office, const core::Package& package) {
  return office.check(package.payload).verdict.reasons();
}

bool clears(OfficeAtWork& office, const core::Package& package) {
  return office.check(package.payload).verdict.outcome() == Outcome::Clear;
}

bool has_note(const app::CheckReply& reply, Note note) {
  const auto notes = reply.verdict.notes();
  return std::find(notes.begin(), notes.end(), note) != notes.end();
}

void accept(OfficeAtWork& office) { must(app::accept_clock(office.ports(), {"AB", "set by hand"})); }

std::string add_operator(OfficeAtWork& office, const char* code, const char* role) {
  return code_of(app::add_entries(office.ports(), "AB", app::OfficeTable::Operators,
                                  {{{"code", code}, {"name", "Newcomer"}, {"role", role}}}));
}

const std::vector<Reason> kHolds{Reason::ClockBehindRecord};

}  // namespace

TEST_CASE("Within the tolerance the record's day counts when it is later than the clock's") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.clock.turn_days(180);
  office.clock.turn(minutes{11 * 60});  // into the last quarter of an hour of the last day
  office.clock.turn(minutes{5});
  REQUIRE(clears(office, package));
  office.clock.turn(minutes{12});  // another station, past midnight
  REQUIRE(reasons_of(office, package) == std::vector{Reason::PastUseBy});
  office.clock.turn(minutes{-12});
  REQUIRE(reasons_of(office, package) == std::vector{Reason::PastUseBy});
}

TEST_CASE("What was run while the clock stood a year ahead is not used once it is put right") {
  OfficeAtWork office;
  const core::Package before = office.released_package({"S1", 1});
  office.clock.turn_days(365);
  const core::Package ahead = office.released_package({"S1", 2});
  REQUIRE(clears(office, ahead));
  REQUIRE(reasons_of(office, before) == std::vector{Reason::PastUseBy});
  office.clock.turn_days(-365);
  REQUIRE(reasons_of(office, before) == kHolds);
  REQUIRE(reasons_of(office, ahead) == kHolds);
  accept(office);
  REQUIRE(clears(office, before));
  REQUIRE(reasons_of(office, ahead) == std::vector{Reason::LabelRecordMismatch});
  office.clock.turn_days(365);  // the day that its label says has come
  REQUIRE(reasons_of(office, ahead) == std::vector{Reason::PastUseBy});
  REQUIRE(has_note(office.check(ahead.payload), Note::DateInDoubt));
  REQUIRE(clears(office, office.released_package({"S1", 3})));
}

TEST_CASE("A day ahead shortens the last day of what was run meanwhile, and of nothing else") {
  OfficeAtWork office;
  const core::Package before = office.released_package({"S1", 1});
  office.clock.turn_days(1);
  const core::Package ahead = office.released_package({"S1", 2});
  office.clock.turn_days(-1);
  accept(office);
  office.clock.turn_days(179);
  REQUIRE(clears(office, before));
  REQUIRE(clears(office, ahead));
  REQUIRE(has_note(office.check(ahead.payload), Note::DateInDoubt));
  REQUIRE_FALSE(has_note(office.check(before.payload), Note::DateInDoubt));
  office.clock.turn_days(1);
  REQUIRE(clears(office, before));
  office.clock.turn_days(1);
  REQUIRE(reasons_of(office, ahead) == std::vector{Reason::PastUseBy});
}

TEST_CASE("A clock put back by minutes leaves clear what was run long before its last days") {
  OfficeAtWork office;
  office.clock.turn_days(420);  // the office was closed for long
  const core::Package package = office.released_package();
  office.clock.turn(minutes{-16});
  REQUIRE(reasons_of(office, package) == kHolds);
  accept(office);
  REQUIRE(clears(office, package));
  office.clock.turn_days(140);
  REQUIRE(clears(office, package));
  office.clock.turn_days(40);
  REQUIRE(reasons_of(office, package) == std::vector{Reason::PastUseBy});
}

TEST_CASE("Under event-related shelf life a load of a wrong day is used when that day has come") {
  OfficeAtWork office{"us-cdc-2003", std::nullopt};
  office.clock.turn_days(30);
  const core::Package ahead = office.released_package();
  office.clock.turn_days(-30);
  accept(office);
  REQUIRE(reasons_of(office, ahead) == std::vector{Reason::LabelRecordMismatch});
  office.clock.turn_days(30);
  REQUIRE(clears(office, ahead));
}

TEST_CASE("The cap of a profile counts from the earliest day the load may have been run on") {
  OfficeAtWork office{"uk", std::nullopt};
  const core::Package before = office.released_package({"S1", 1});
  office.clock.turn_days(40);
  const core::Package ahead = office.released_package({"S1", 2});
  office.clock.turn_days(-40);
  accept(office);
  office.clock.turn_days(364);
  REQUIRE(clears(office, before));
  REQUIRE(clears(office, ahead));
  office.clock.turn_days(2);
  REQUIRE(reasons_of(office, before) == std::vector{Reason::PastUseBy});
  REQUIRE(reasons_of(office, ahead) == std::vector{Reason::PastUseBy});
}

TEST_CASE("While the clock is behind no label is printed and no load begun, and both go on once it is accepted") {
  OfficeAtWork office;
  const auto packages = office.print({"S1", 1}, 2);
  must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", core::LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", {"S1", 1}, {packages[0].id.text()}, {}}));
  office.clock.turn(minutes{-16});
  const auto replace = [&] {
    app::ReplaceRequest request;
    request.operator_code = "CD";
    request.package = packages[1].id.text();
    request.contents = "HOLLOW";
    request.paper.out = "again.pdf";
    return code_of(app::replace_label(office.ports(), office.shop(), request));
  };
  const auto print = [&] {
    return code_of(app::print_labels(office.ports(), office.shop(), office.print_request({"S1", 1})));
  };
  const auto start = [&] { return code_of(app::start_load(office.ports(), {"CD", {"S1", 1}})); };
  const std::size_t written = office.ledger_size();
  REQUIRE(print() == "clock-behind-record");
  REQUIRE(replace() == "clock-behind-record");
  REQUIRE(start() == "clock-behind-record");
  REQUIRE(office.ledger_size() == written);
  accept(office);
  REQUIRE(print() == "ok");
  REQUIRE(replace() == "ok");
  REQUIRE(start() == "ok");
}

TEST_CASE("A lead who came while the clock stood ahead can put it right and goes on working") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.clock.turn_days(400);
  REQUIRE(add_operator(office, "EF", "lead") == "ok");
  REQUIRE(add_operator(office, "GH", "staff") == "ok");
  must(app::retire_entry(office.ports(), "EF", app::OfficeTable::Operators, "AB"));
  office.clock.turn_days(-400);
  REQUIRE(reasons_of(office, package) == kHolds);
  REQUIRE(code_of(app::signed_in_operator(office.ports(), "EF")) == "ok");
  REQUIRE(code_of(app::accept_clock(office.ports(), {"GH", "mains failed"})) == "lead-required");
  REQUIRE(code_of(app::accept_clock(office.ports(), {"EF", "mains failed"})) == "ok");
  REQUIRE(clears(office, package));
  for (const char* code : {"EF", "GH"}) REQUIRE(code_of(app::signed_in_operator(office.ports(), code)) == "ok");
  const auto left = must(must(office.store.begin(port::Access::Read))->operators().find("AB"));
  REQUIRE(left->last_day == UtcZone{}.local_date(office.clock.now()));
  office.clock.turn_days(1);
  REQUIRE(code_of(app::signed_in_operator(office.ports(), "AB")) == "operator-not-current");
  REQUIRE(code_of(app::signed_in_operator(office.ports(), "EF")) == "ok");
}

TEST_CASE("A first or last day that somebody entered stays when the clock is put right") {
  OfficeAtWork office;
  const core::CivilDate today = UtcZone{}.local_date(office.clock.now());
  must(app::add_entries(office.ports(), "AB", app::OfficeTable::Operators,
                        {{{"code", "IJ"}, {"name", "Later"}, {"first_day", today.plus_days(20).iso()},
                          {"last_day", today.plus_days(90).iso()}}}));
  office.clock.turn_days(60);
  office.print({"S1", 1});
  office.clock.turn_days(-60);
  accept(office);
  const auto later = must(must(office.store.begin(port::Access::Read))->operators().find("IJ"));
  REQUIRE(later->first_day == today.plus_days(20));
  REQUIRE(later->last_day == today.plus_days(90));
  REQUIRE(code_of(app::signed_in_operator(office.ports(), "IJ")) == "operator-not-current");
}

TEST_CASE("A clock from before the program was made holds everything and nobody can accept it") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const auto age = std::chrono::duration_cast<minutes>(office.clock.now().time_since_epoch());
  office.clock.turn(-age);
  REQUIRE(reasons_of(office, package) == kHolds);
  REQUIRE(must(app::show_clock(office.ports())).impossible);
  REQUIRE(code_of(app::accept_clock(office.ports(), {"AB", "battery"})) == "bad-value");
  REQUIRE(reasons_of(office, package) == kHolds);
  office.clock.turn(age);
  REQUIRE(clears(office, package));
  REQUIRE_FALSE(must(app::show_clock(office.ports())).behind);
}

TEST_CASE("A clock at 2100 and put right leaves an office that clears again") {
  OfficeAtWork office;
  const core::Package before = office.released_package({"S1", 1});
  constexpr int kToTheYear2100 = 73 * 365;
  office.clock.turn_days(kToTheYear2100);
  REQUIRE(reasons_of(office, before) == std::vector{Reason::PastUseBy});
  office.clock.turn_days(-kToTheYear2100);
  REQUIRE(reasons_of(office, before) == kHolds);
  accept(office);
  REQUIRE(clears(office, before));
  REQUIRE(clears(office, office.released_package({"S1", 2})));
}

// The repair comes first, then the retests that prove it: whatever times the two carry.
TEST_CASE("A retest run before the repair by a clock that stood ahead proves nothing of it") {
  for (const bool ahead : {false, true}) {
    OfficeAtWork office{"office"};
    released_in(office, {1, 2});
    must(grow(office, {"S1", 2}));
    REQUIRE(step(office, "recall-implants", "none-aboard") == "ok");
    REQUIRE(step(office, "recall-everything", "recalled") == "ok");
    REQUIRE(step(office, "review-records", "fine") == "ok");
    REQUIRE(step(office, "review-procedures", "fine") == "ok");
    REQUIRE(step(office, "inspect", "defect") == "ok");
    if (ahead) office.clock.turn_days(40);
    for (int i = 0; i < 3; ++i) retest(office, core::BiologicalTest::NoGrowth);
    if (ahead) office.clock.turn_days(-40);
    if (ahead) accept(office);
    REQUIRE(step(office, "repair", "repaired") == "ok");
    CAPTURE(ahead);
    REQUIRE(return_s1(office) == "return-not-allowed");
    for (int i = 0; i < 3; ++i) retest(office, core::BiologicalTest::NoGrowth);
    REQUIRE(return_s1(office) == "ok");
  }
}

TEST_CASE("Steps done by a clock that stood ahead are followed by the retests that come after them") {
  OfficeAtWork office{"us-cdc-2008"};
  released_in(office, {1, 2});
  must(grow(office, {"S1", 2}));
  office.clock.turn_days(40);
  for (const char* code : {"check-settings", "check-utilities", "check-indicator"}) {
    REQUIRE(step(office, code, "fine") == "ok");
  }
  REQUIRE(step(office, "notify", "done") == "ok");
  REQUIRE(step(office, "recall-implants", "none-aboard") == "ok");
  office.clock.turn_days(-40);
  accept(office);
  for (int i = 0; i < 3; ++i) retest(office, core::BiologicalTest::NoGrowth);
  REQUIRE(return_s1(office) == "ok");
}

TEST_CASE("Whoever accepts a clock leaves on record why, how far ahead the newest event lay and what is in doubt") {
  OfficeAtWork office;
  office.released_package({"S1", 1});
  office.clock.turn_days(365);
  office.released_package({"S1", 2});
  office.clock.turn_days(-365);
  accept(office);
  const auto unit = must(office.store.begin(port::Access::Read));
  const auto found = must(unit->find_events({"clock", core::EventKind::ClockCorrected, {}}));
  REQUIRE(found.size() == 1);
  REQUIRE(found[0].operator_code == "AB");
  REQUIRE(found[0].details.at(0) == std::pair<std::string, std::string>{"why", "set by hand"});
  REQUIRE(found[0].details.at(1).first == "ahead-ms");
  REQUIRE(found[0].details.at(2).first == "doubt");
  REQUIRE(core::parse_clock_doubt(found[0].details.at(2).second));
}

TEST_CASE("Whichever call of the store fails, accepting a clock is whole or leaves no trace") {
  require_all_or_nothing(
      [](OfficeAtWork& office) {
        office.clock.turn_days(400);
        REQUIRE(add_operator(office, "EF", "lead") == "ok");
        office.clock.turn_days(-400);
        return 0;
      },
      [](OfficeAtWork& office, int) { return app::accept_clock(office.ports(), {"AB", "battery"}).ok(); });
}

}  // namespace loadlight::tests
