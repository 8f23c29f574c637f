// Packages judged and opened while the record cannot be reached.
#include "app/hand_copy.h"
#include "app/office_at_work.h"
#include "loadlight/app/cut_off.h"
#include "loadlight/app/keep_copy.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/package_history.h"
#include "loadlight/app/queued_acts.h"
#include "loadlight/app/sign_in.h"
#include "loadlight/app/watch_packages.h"

namespace loadlight::tests {
namespace {

using core::EventKind;
using core::Note;
using core::Outcome;
using core::Reason;
using std::chrono::minutes;
using std::chrono::seconds;

constexpr int kAllowed = 10;

core::Package released(OfficeAtWork& office, int allowed) {
  if (allowed > 0) office.set("local-copy-minutes", std::to_string(allowed));
  return office.released_package();
}

// A package in a released load, at a station that has a copy of now and whose line is cut.
struct CutOffice final {
  explicit CutOffice(int allowed = kAllowed)
      : line(office.store), copy(office.store), package(released(office, allowed)) {
    must(copy.take(office.clock.now(), {}));
    line.cut = true;
  }

  app::Ports ports() { return {line, office.clock, office.zone, office.keyring, &copy}; }
  app::CheckReply check() {
    return app::check_packages(ports(), {{{app::CheckItem::How::Symbol, package.payload, std::nullopt}}, "CD", {}}).front();
  }
  core::Result<app::OpenReply> open(bool dry = true, std::string already = "") {
    return app::open_package(ports(), {"CD", package.id.text(), "V-1", dry, true, core::IndicatorLook::Changed, already});
  }
  void be_of_age(std::chrono::milliseconds age) { copy.taken_at = office.clock.now() - age; }
  std::vector<port::PastEvent> events(const std::string& subject, EventKind kind) {
    return must(must(office.store.begin(port::Access::Read))->events_about(subject, kind));
  }

  OfficeAtWork office;
  CutStore line;
  HandCopy copy;
  core::Package package;
};

bool is_by_copy(const core::Verdict& verdict) {
  const auto& notes = verdict.notes();
  return std::find(notes.begin(), notes.end(), Note::LocalCopy) != notes.end();
}

std::string detail_of(const port::PastEvent& event, const std::string& name) {
  for (const auto& [key, value] : event.details) {
    if (key == name) return value;
  }
  return {};
}

void require_hold(const app::CheckReply& reply) {
  REQUIRE(reply.verdict.outcome() == Outcome::Hold);
  REQUIRE(reply.verdict.reasons() == std::vector{Reason::RecordUnreachable});
  REQUIRE_FALSE(is_by_copy(reply.verdict));
  REQUIRE_FALSE(reply.from_copy);
}

}  // namespace

TEST_CASE("Cut off a package holds where the profile allows no copy") {
  CutOffice cut{0};
  require_hold(cut.check());
  REQUIRE(cut.copy.waiting.empty());
  REQUIRE(code_of(cut.open()) == "office-unreadable");
}

TEST_CASE("A copy is judged by for as many minutes as the profile allows and not a second longer") {
  CutOffice cut;
  for (const auto& [age, shown] : {std::pair<std::chrono::milliseconds, int>{seconds{0}, 0}, {seconds{1}, 1},
                                   {minutes{1}, 1}, {minutes{9}, 9}, {minutes{kAllowed}, kAllowed}}) {
    cut.be_of_age(age);
    const auto reply = cut.check();
    CAPTURE(age.count());
    REQUIRE(reply.verdict.outcome() == Outcome::Clear);
    REQUIRE(is_by_copy(reply.verdict));
    REQUIRE(reply.from_copy->minutes == shown);
  }
  for (const std::chrono::milliseconds age : {std::chrono::milliseconds{minutes{kAllowed}} + std::chrono::milliseconds{1},
                                              std::chrono::milliseconds{minutes{kAllowed} + seconds{1}},
                                              std::chrono::milliseconds{-1}, std::chrono::milliseconds{-minutes{1}}}) {
    cut.be_of_age(age);
    CAPTURE(age.count());
    require_hold(cut.check());
    REQUIRE(code_of(cut.open()) == "office-unreadable");
  }
}

TEST_CASE("Without a copy or without its queue a package holds") {
  CutOffice cut;
  SECTION("no copy") { cut.copy.taken_at.reset(); }
  SECTION("a queue that cannot be read") { cut.copy.unreadable = true; }
  SECTION("a record that fails otherwise") { cut.line.why.code = core::FailureCode::OfficeBusy; }
  SECTION("a copy whose record fails") { cut.copy.copy->break_call(1, broken_store()); }
  require_hold(cut.check());
}

TEST_CASE("A check by the copy that cannot be laid by clears nothing") {
  CutOffice cut;
  cut.copy.full = true;
  const auto reply = cut.check();
  REQUIRE(reply.verdict.outcome() == Outcome::Hold);
  REQUIRE(reply.verdict.has(Reason::RecordUnreachable));
  REQUIRE(code_of(cut.open()) == "disk-full");
  REQUIRE(cut.copy.waiting.empty());
}

TEST_CASE("Whichever call of the copy fails nothing is Clear") {
  CutOffice whole;
  whole.copy.copy->break_call(0, broken_store());
  REQUIRE(whole.check().verdict.outcome() == Outcome::Clear);
  const int calls = whole.copy.copy->calls();
  REQUIRE(calls > 5);
  for (int nth = 1; nth <= calls; ++nth) {
    CutOffice cut;
    cut.copy.copy->break_call(nth, broken_store());
    CAPTURE(nth, calls);
    REQUIRE(cut.check().verdict.outcome() != Outcome::Clear);
  }
}

TEST_CASE("What was done without the record is written once with its own time and operator") {
  CutOffice cut;
  const auto checked_at = cut.office.clock.now();
  REQUIRE(cut.check().verdict.outcome() == Outcome::Clear);
  cut.office.clock.turn(minutes{2});
  const auto opened_at = cut.office.clock.now();
  const auto opened = must(cut.open());
  REQUIRE(opened.outcome == app::OpenOutcome::Opened);
  REQUIRE(opened.check.from_copy->minutes == 2);
  REQUIRE(cut.check().verdict.reasons() == std::vector{Reason::AlreadyOpened});
  REQUIRE(must(cut.open()).outcome == app::OpenOutcome::Refused);
  REQUIRE(code_of(app::write_queued(cut.ports())) == "office-unreadable");

  cut.office.clock.turn(minutes{300});
  cut.line.cut = false;
  const std::size_t before = cut.office.ledger_size();
  const auto reply = must(app::write_queued(cut.ports()));
  REQUIRE(reply.written == 4);
  REQUIRE(reply.contradicted.empty());
  REQUIRE(cut.copy.waiting.empty());
  REQUIRE(cut.office.ledger_size() == before + 4);
  const auto package = cut.office.now(cut.package);
  REQUIRE(package.state == core::PackageState::Opened);
  REQUIRE(package.opened_at == opened_at);
  REQUIRE(package.visit == "V-1");
  const auto checks = cut.events(cut.package.id.text(), EventKind::PackageChecked);
  REQUIRE(checks.front().at == checked_at);
  REQUIRE(checks.front().operator_code == "CD");
  REQUIRE(detail_of(checks.front(), "outcome") == "clear");
  REQUIRE(detail_of(checks.front(), app::kCopyDetail) == "0");
  const auto opening = cut.events(cut.package.id.text(), EventKind::PackageOpened);
  REQUIRE(opening.size() == 1);
  REQUIRE(opening.front().at == opened_at);
  REQUIRE(detail_of(opening.front(), app::kVisitDetail).empty());
  REQUIRE(must(app::contradicted_openings(cut.ports())).empty());
  REQUIRE(must(app::write_queued(cut.ports())).written == 0);

  cut.line.cut = true;  // the copy lacks what was written
  require_hold(cut.check());
}

TEST_CASE("A station that dies between writing and forgetting writes nothing twice") {
  CutOffice cut;
  cut.check();
  must(cut.open());
  cut.line.cut = false;
  cut.copy.killed_before_settling = true;
  REQUIRE_FALSE(app::write_queued(cut.ports()));
  const std::size_t written = cut.office.ledger_size();
  REQUIRE(cut.copy.waiting.size() == 2);
  cut.line.cut = true;
  REQUIRE(cut.check().verdict.has(Reason::AlreadyOpened));
  cut.line.cut = false;
  cut.copy.killed_before_settling = false;
  REQUIRE(must(app::write_queued(cut.ports())).written == 1);  // the check in between
  REQUIRE(cut.office.ledger_size() == written + 1);
  REQUIRE(cut.copy.waiting.empty());
}

TEST_CASE("Whichever call of the record fails what waits is written whole or waits on") {
  for (int nth = 1;; ++nth) {
    CutOffice cut;
    must(cut.open());
    cut.line.cut = false;
    const std::size_t before = cut.office.ledger_size();
    cut.office.store.break_call(nth, {core::FailureCode::OfficeUnreadable, {}, {}});
    const auto reply = app::write_queued(cut.ports());
    if (reply) {
      REQUIRE(nth > 3);
      REQUIRE(cut.copy.waiting.empty());
      break;
    }
    REQUIRE(cut.office.ledger_size() == before);
    REQUIRE(must(app::write_queued(cut.ports())).written == 1);
    REQUIRE(cut.office.now(cut.package).state == core::PackageState::Opened);
  }
}

TEST_CASE("An opening that a recall contradicts is a fact and is listed with the reason") {
  CutOffice cut;
  must(cut.open());
  must(app::recall_load(cut.office.ports(), {"AB", cut.package.load, "door seal"}));
  cut.line.cut = false;
  const auto reply = must(app::write_queued(cut.ports()));
  REQUIRE(reply.contradicted.size() == 1);
  REQUIRE(reply.contradicted.front().package == cut.package.id.text());
  REQUIRE(reply.contradicted.front().reasons == std::vector{Reason::LoadRecalled});
  REQUIRE(cut.office.now(cut.package).state == core::PackageState::Opened);
  const auto listed = must(app::contradicted_openings(cut.ports()));
  REQUIRE(listed.size() == 1);
  REQUIRE(listed.front().reasons == std::vector{Reason::LoadRecalled});
  REQUIRE(listed.front().operator_code == "CD");
  REQUIRE(listed.front().visit == "V-1");
  const auto unit = must(cut.office.store.begin(port::Access::Read));
  const auto history = must(app::package_history(*unit, cut.package.id));
  const auto& events = history->events;
  REQUIRE(std::any_of(events.begin(), events.end(), [](const auto& event) { return event.kind == EventKind::OpeningContradicted; }));
}

TEST_CASE("A package opened elsewhere meanwhile stays as it was opened first and the second is listed") {
  CutOffice cut;
  cut.office.clock.turn(minutes{3});
  must(cut.open());
  must(cut.office.open(cut.package));
  const auto first = cut.office.now(cut.package);
  cut.line.cut = false;
  const auto reply = must(app::write_queued(cut.ports()));
  REQUIRE(reply.contradicted.size() == 1);
  REQUIRE(reply.contradicted.front().reasons == std::vector{Reason::AlreadyOpened});
  REQUIRE(cut.office.now(cut.package).visit == first.visit);
  REQUIRE(cut.events(cut.package.id.text(), EventKind::PackageOpened).size() == 1);
  REQUIRE(must(app::contradicted_openings(cut.ports())).front().visit == "V-1");
}

TEST_CASE("An opening on its last day is not contradicted by the day on which it is written") {
  CutOffice cut;
  cut.office.clock.turn_days(180);
  must(cut.copy.take(cut.office.clock.now(), {}));
  must(cut.open());
  cut.office.clock.turn_days(3);
  cut.line.cut = false;
  REQUIRE(must(app::write_queued(cut.ports())).contradicted.empty());
}

TEST_CASE("Cut off nothing else than an opening is done") {
  CutOffice cut;
  REQUIRE(code_of(cut.open(false)) == "office-unreadable");
  REQUIRE(code_of(cut.open(true, "it was urgent")) == "office-unreadable");
  REQUIRE(code_of(app::withdraw_package(cut.ports(), {"CD", cut.package.id.text(), core::WithdrawReason::Wet})) ==
          "office-unreadable");
  REQUIRE(code_of(app::shelve_packages(cut.ports(), {"CD", {cut.package.id.text()}, "CAB1"})) == "office-unreadable");
  REQUIRE(code_of(app::recall_load(cut.ports(), {"AB", cut.package.load, "door seal"})) == "office-unreadable");
  REQUIRE(cut.copy.waiting.empty());
}

TEST_CASE("Cut off only those who work here open") {
  CutOffice cut;
  const auto open_as = [&](std::string code) {
    return code_of(app::open_package(cut.ports(), {code, cut.package.id.text(), {}, true, true, core::IndicatorLook::Changed, ""}));
  };
  REQUIRE(open_as("") == "operator-missing");
  REQUIRE(open_as("XX") == "operator-unknown");
  REQUIRE(open_as("CD") == "ok");
  REQUIRE(must(app::signed_in_operator(cut.ports(), "CD")).code == "CD");
  REQUIRE(code_of(app::signed_in_operator(cut.ports(), "XX")) == "operator-unknown");
  REQUIRE(app::idle_lock(cut.ports()) == minutes{10});
  cut.copy.taken_at.reset();
  REQUIRE(code_of(app::signed_in_operator(cut.ports(), "CD")) == "office-unreadable");
}

TEST_CASE("At the camera an answer by the copy is shown anew and laid by") {
  CutOffice cut;
  cut.line.cut = false;
  app::PackageWatch watch{cut.ports(), {{}, "CD", {}}};
  const std::vector<app::CheckItem> frame{{app::CheckItem::How::Symbol, cut.package.payload, std::nullopt}};
  app::PackageWatch::Time now{};
  const auto see = [&] { return watch.see(frame, now += std::chrono::milliseconds{200}); };
  REQUIRE(see().empty());
  REQUIRE(see().size() == 1);
  cut.line.cut = true;
  REQUIRE(see().empty());
  const auto shown = see();
  REQUIRE(shown.size() == 1);
  REQUIRE(is_by_copy(shown.front().verdict));
  REQUIRE(shown.front().verdict.outcome() == Outcome::Clear);
  REQUIRE(cut.copy.waiting.size() == 1);
  REQUIRE(see().empty());
  cut.copy.taken_at.reset();
  REQUIRE(see().front().verdict.outcome() == Outcome::Hold);
}

TEST_CASE("A clock that is behind the copy holds") {
  CutOffice cut;
  cut.office.clock.turn(-minutes{16});
  cut.copy.taken_at = cut.office.clock.now();
  REQUIRE(cut.check().verdict.reasons() == std::vector{Reason::ClockBehindRecord});
}

TEST_CASE("A station keeps a copy where the profile asks for one and none where it does not") {
  CutOffice cut;
  REQUIRE(code_of(app::take_copy(cut.ports())) == "office-unreadable");
  cut.line.cut = false;
  cut.office.clock.turn(minutes{1});
  REQUIRE(must(app::take_copy(cut.ports())).taken == cut.office.clock.now());
  cut.office.set("local-copy-minutes", "0");
  const auto reply = must(app::take_copy(cut.ports()));
  REQUIRE(reply.minutes == 0);
  REQUIRE_FALSE(reply.taken);
  REQUIRE_FALSE(cut.copy.taken_at);
  REQUIRE(code_of(app::take_copy(cut.office.ports())) == "no-local-copy");
}

TEST_CASE("A copy is taken every quarter of its time and every half minute at least") {
  REQUIRE(app::copy_interval(1) == seconds{15});
  REQUIRE(app::copy_interval(2) == seconds{30});
  REQUIRE(app::copy_interval(240) == seconds{30});
}

TEST_CASE("What may speak against a package outdates a copy") {
  REQUIRE(app::leaves_copies_right({EventKind::PackageChecked, EventKind::LoadReleased}));
  for (const EventKind kind : {EventKind::PackageOpened, EventKind::PackageWithdrawn, EventKind::LabelVoided,
                               EventKind::LabelReplaced, EventKind::PackagesRemoved, EventKind::LoadRecalled,
                               EventKind::ReleaseRevoked, EventKind::LoadFailed, EventKind::IncidentOpened,
                               EventKind::RecallWidened, EventKind::PackagesRecalled, EventKind::BiologicalRead,
                               EventKind::SettingChanged, EventKind::ClockCorrected, EventKind::OpeningContradicted}) {
    CAPTURE(core::to_text(kind));
    REQUIRE_FALSE(app::leaves_copies_right({EventKind::PackageChecked, kind}));
  }
}

}  // namespace loadlight::tests
