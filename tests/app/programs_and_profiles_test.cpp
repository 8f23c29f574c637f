#include "app/office_at_work.h"
#include "loadlight/app/list_due.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/set_profile.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::LoadPurpose;
using core::LoadState;
using core::Outcome;
using core::Reason;

const LoadName kLoad{"S1", 1};

void enter(OfficeAtWork& office, const std::string& rows) {
  must(app::import_entries(
      office.ports(), "CD", app::OfficeTable::Programs,
      "code,name,sterilizer,load_kind,celsius,exposure_minutes,drying_minutes,document,page\n" + rows));
}

std::string open_code(OfficeAtWork& office, const char* sterilizer, const char* program) {
  return code_of(app::open_load(office.ports(), {"CD", sterilizer, program, LoadPurpose::Process, {}, {}}));
}

app::LoadReply run(OfficeAtWork& office, const char* program, core::Readings readings) {
  const auto packages = office.print(kLoad);
  must(app::open_load(office.ports(), {"CD", "S1", program, LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", kLoad, {packages[0].id.text()}, {}}));
  must(app::start_load(office.ports(), {"CD", kLoad}));
  office.finish(kLoad);
  office.give_evidence(kLoad);
  must(app::record_readings(office.ports(), {"CD", kLoad, readings, "by its own program"}));
  return office.release(kLoad);
}

bool notes_below_table(const core::Verdict& verdict) {
  const auto& notes = verdict.notes();
  return std::find(notes.begin(), notes.end(), core::Note::ProgramBelowTable) != notes.end();
}

app::ProfileLine line(const app::ProfileView& view, const std::string& name) {
  for (const auto& each : view.lines) {
    if (each.name == name) return each;
  }
  FAIL("no line " << name);
  return {};
}

}  // namespace

// CDC: the maker's instructions come first.
TEST_CASE("An entered program governs the loads that name it, more strictly or less", "[R29]") {
  OfficeAtWork office;
  enter(office, "LONG,Long,S1,wrapped,132,8,30,Instructions,12\n");
  REQUIRE(run(office, "LONG", {132.5, 134, 4, 304, 20}).load.state == LoadState::Failed);
  OfficeAtWork other;
  enter(other, "LONG,Long,S1,wrapped,132,8,30,Instructions,12\n");
  const auto reply = run(other, "LONG", {132.5, 134, 8, 304, 30});
  REQUIRE(reply.load.state == LoadState::Released);
  REQUIRE_FALSE(notes_below_table(reply.verdict));
  REQUIRE(must(app::show_load(other.ports(), kLoad)).program->source == "Instructions, 12");
}

TEST_CASE("A value under the table's waits for the lead's signature and shows on every decision", "[R29]") {
  OfficeAtWork office;
  enter(office, "FAST,Fast,S1,wrapped,132,3,20,Instructions,14\n");
  REQUIRE(open_code(office, "S1", "FAST") == "program-not-accepted");
  const auto due = must(app::list_due(office.ports()));
  REQUIRE(std::any_of(due.begin(), due.end(), [](const core::DueItem& item) {
    return item.kind == core::DueKind::ProgramAcceptance && item.subject == "FAST";
  }));
  REQUIRE(code_of(app::accept_program(office.ports(), {"CD", "FAST"})) == "lead-required");
  REQUIRE(code_of(app::accept_program(office.ports(), {"AB", "NONE"})) == "code-unknown");
  REQUIRE(must(app::accept_program(office.ports(), {"AB", "FAST"})).accepted_by == "AB");
  const auto reply = run(office, "FAST", {132.5, 134, 3.5, 304, 20});
  REQUIRE(reply.load.state == LoadState::Released);
  REQUIRE(notes_below_table(reply.verdict));
}

TEST_CASE("An entered program belongs to its sterilizer, and a retired one opens no load", "[R29]") {
  OfficeAtWork office;
  enter(office, "LONG,Long,S1,wrapped,132,8,30,Instructions,12\n");
  REQUIRE(open_code(office, "S2", "LONG") == "program-unknown");
  REQUIRE(open_code(office, "S1", "LONG") == "ok");
  must(app::retire_entry(office.ports(), "AB", app::OfficeTable::Programs, "LONG"));
  REQUIRE(open_code(office, "S1", "LONG") == "code-retired");
}

TEST_CASE("A program is entered with its document and page and within what a small sterilizer can do") {
  OfficeAtWork office;
  const auto code = [&](const std::string& row) {
    return code_of(app::import_entries(
        office.ports(), "CD", app::OfficeTable::Programs,
        "code,name,sterilizer,load_kind,celsius,exposure_minutes,drying_minutes,document,page\n" + row));
  };
  REQUIRE(code("A,A,S1,wrapped,134,4,20,,12\n") == "bad-csv");
  REQUIRE(code("A,A,S1,wrapped,99,4,20,Doc,12\n") == "bad-csv");
  REQUIRE(code("A,A,S1,wrapped,134,0,20,Doc,12\n") == "bad-csv");
  REQUIRE(code("A,A,S1,wrapped,nan,4,20,Doc,12\n") == "bad-csv");
  REQUIRE(code("A,A,S1,strange,134,4,20,Doc,12\n") == "bad-csv");
  REQUIRE(code("A,A,S1,wrapped,134,4,20,Doc,12\n") == "ok");
}

// HTM 01-05 (2013): type N after the program.
TEST_CASE("In type N practice of the UK labels are printed under the finished load of the day", "[R30]") {
  OfficeAtWork office{"uk"};
  const LoadName load{"S2", 1};
  must(app::open_load(office.ports(), {"CD", "S2", "steam-121", LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", load, {}, {{"EXAM", 12}}}));
  must(app::start_load(office.ports(), {"CD", load}));
  REQUIRE(code_of(app::print_labels(office.ports(), office.shop(), office.print_request(load))) ==
          "load-wrong-state");
  office.finish(load);
  office.give_evidence(load);
  const auto package = office.print(load).front();
  REQUIRE(office.now(package).state == core::PackageState::Loaded);
  REQUIRE(office.release(load).load.state == LoadState::Released);
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
  office.clock.turn_days(1);
  REQUIRE(code_of(app::print_labels(office.ports(), office.shop(), office.print_request(load))) ==
          "load-wrong-state");
}

TEST_CASE("Where packing comes first no label is printed under a load that has ended", "[R30]") {
  OfficeAtWork office;
  const LoadName load{"S2", 1};
  must(app::open_load(office.ports(), {"CD", "S2", "steam-121", LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", load, {}, {{"EXAM", 12}}}));
  must(app::start_load(office.ports(), {"CD", load}));
  office.finish(load);
  REQUIRE(code_of(app::print_labels(office.ports(), office.shop(), office.print_request(load))) ==
          "load-wrong-state");
}

TEST_CASE("Every value of the profile is shown with its source, and the office's own with who and why",
          "[R63]") {
  OfficeAtWork office{"us-cdc-2003", 180, DailyTests::AsTheProfileAsks};
  const auto before = must(app::show_profile(office.ports()));
  REQUIRE(before.profile == "us-cdc-2003 4");
  REQUIRE(before.lines.size() == core::profile_value_names().size());
  for (const auto& each : before.lines) {
    CAPTURE(each.name);
    REQUIRE_FALSE(each.source.empty());
    REQUIRE_FALSE(each.own);
  }
  const auto after =
      must(app::set_profile_value(office.ports(), {"AB", "above-band", "hold", "we want to know"}));
  REQUIRE(after.profile == "us-cdc-2003 4, own: above-band");
  REQUIRE(line(after, "above-band").value == "hold");
  REQUIRE(line(after, "above-band").source == "we want to know (AB)");
}

TEST_CASE("A value is set by the lead, with a reason, and only to what it can take") {
  OfficeAtWork office;
  const auto set = [&](const char* who, const char* name, const char* value, const char* why) {
    return code_of(app::set_profile_value(office.ports(), {who, name, value, why}));
  };
  REQUIRE(set("CD", "biological", "daily", "more") == "lead-required");
  REQUIRE(set("AB", "biological", "daily", "") == "reason-missing");
  REQUIRE(set("AB", "biological", "hourly", "more") == "bad-value");
  REQUIRE(set("AB", "moon", "full", "more") == "bad-value");
  REQUIRE(set("AB", "steam-kelvin", "nan", "more") == "bad-value");
  REQUIRE(set("AB", "biological", "daily", "more") == "ok");
}

TEST_CASE("The profile and its own values stand with each decision in the ledger", "[R63]") {
  OfficeAtWork office;
  office.released_package(kLoad);
  const auto events =
      must(must(office.store.begin(port::Access::Read))->events_about("S1-1", core::EventKind::LoadReleased));
  REQUIRE(events.size() == 1);
  const core::Detail profile{"profile", "us-cdc-2003 4, own: air-removal-test"};
  REQUIRE(std::find(events[0].details.begin(), events[0].details.end(), profile) != events[0].details.end());
}

// EN 13060 bands, from memory: a note unless the office asks more.
TEST_CASE("A temperature above the band holds only where the office asks it") {
  OfficeAtWork office;
  const core::Readings hot{136, 138, 4, 330, 20};
  REQUIRE(run(office, "dynamic-132-wrapped", hot).load.state == LoadState::Released);
  OfficeAtWork strict;
  strict.set("above-band", "hold");
  const auto reply = run(strict, "dynamic-132-wrapped", hot);
  REQUIRE(reply.load.state == LoadState::Finished);
  REQUIRE(reply.verdict.has(Reason::TemperatureAboveBand));
}

TEST_CASE("Whichever call of the store fails, settings and signatures are whole or not at all") {
  require_all_or_nothing(
      [](OfficeAtWork&) { return 0; },
      [](OfficeAtWork& office, int) {
        return app::set_profile_value(office.ports(), {"AB", "biological", "daily", "more"}).ok();
      });
  require_all_or_nothing(
      [](OfficeAtWork& office) {
        enter(office, "FAST,Fast,S1,wrapped,132,3,20,Instructions,14\n");
        return 0;
      },
      [](OfficeAtWork& office, int) {
        return app::accept_program(office.ports(), {"AB", "FAST"}).ok();
      });
}

}  // namespace loadlight::tests
