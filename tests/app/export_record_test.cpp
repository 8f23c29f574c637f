#include "loadlight/app/export_record.h"

#include <map>
#include <set>

#include "app/export_fields.h"
#include "app/office_at_work.h"
#include "loadlight/core/check_character.h"

namespace loadlight::tests {
namespace {

using app::ExportReader;
using core::EventKind;

const core::LoadName kLoad{"MK01X", 7};
constexpr const char* kContents = "MK02X";
constexpr const char* kKind = "MK03X";
constexpr const char* kPlace = "MK04X";
const core::CivilDate kDay = *core::CivilDate::from(2026, 11, 25);

const core::PackageId kPackage =
    *core::PackageId::parse_typed(std::string{"8Q4T0ZK3M"} + *core::check_character("8Q4T0ZK3M"));

// Every text of the record holds a mark of its own, and who may find it.
class Marks {
 public:
  // "MK23X", for these readers: i, t and r; nobody for none.
  std::string operator()(const std::string& readers) { return put("MK" + std::to_string(number_++) + "X", readers); }
  std::string put(const std::string& mark, const std::string& readers) {
    readers_[mark] = readers;
    return mark;
  }
  // An operator, whose code the inspector finds among the operators as well.
  std::string who() {
    const std::string code = (*this)("i");
    people_.push_back(core::Operator{code, "", core::Role::Staff, kDay, {}});
    return code;
  }
  // These, after whoever they name.
  std::vector<core::Record> with_people(std::vector<core::Record> records) {
    records.insert(records.begin(), people_.begin(), people_.end());
    people_.clear();
    return records;
  }
  void require_in(const std::string& text, char reader) const {
    for (const auto& [mark, readers] : readers_) {
      CAPTURE(mark, reader);
      CHECK((text.find(mark) != std::string::npos) == (readers.find(reader) != std::string::npos));
    }
  }

 private:
  int number_ = 10;
  std::map<std::string, std::string> readers_;
  std::vector<core::Record> people_;
};

void write(OfficeAtWork& office, EventKind kind, std::string subject, std::vector<core::Record> records,
           core::Details details = {}, std::string who = "AB") {
  const auto unit = must(office.store.begin(port::Access::Write));
  must(unit->write({kind, office.clock.now(), std::move(who), std::move(subject), std::move(details),
                    std::move(records)}));
  must(unit->commit());
}

core::Load marked_load(Marks& mark, core::Instant now) {
  core::Load load;
  load.name = kLoad;
  load.state = core::LoadState::Aborted;
  load.program = mark("it");
  load.loose_items = {{mark("i"), 3}};
  load.opened_at = load.started_at = load.finished_at = load.decided_at = now;
  load.run = 1;
  load.process_date = kDay;
  load.abort_reason = mark("it");
  load.readings = core::Readings{132.5, 134.25, 4.5, 293, 21.5};
  load.cycle_log = 1;
  load.decided_by = mark("i");
  load.emergency_reason = mark("i");
  load.emergency_second = mark("i");
  return load;
}

core::Package marked_package(Marks& mark, core::Instant now) {
  core::Package package{kPackage, kLoad, kDay};
  package.operator_code = mark.who();
  package.contents = kContents;
  package.kind = kKind;
  package.print_run = 1;
  package.payload = mark("");
  package.chart_payload = mark("");
  package.printed_at = now;
  package.state = core::PackageState::Opened;
  package.location = kPlace;
  package.opened_at = now;
  package.visit = mark("");
  return package;
}

void fill_tables(OfficeAtWork& office, Marks& mark) {
  const core::Instant now = office.clock.now();
  core::Office settings = must(must(office.store.begin(port::Access::Read))->office());
  settings.name = mark("it");
  settings.zone = mark("it");
  write(office, EventKind::OfficeMade, "office", {settings});
  write(office, EventKind::OperatorAdded, "x", {core::Operator{mark("i"), mark(""), core::Role::Staff, kDay, {}}});
  core::Sterilizer sterilizer;
  sterilizer.code = mark.put(kLoad.sterilizer, "it");
  sterilizer.name = mark("it");
  write(office, EventKind::SterilizerAdded, "x", {sterilizer});
  core::OfficeProgram program;
  program.code = mark("it");
  program.name = mark("it");
  program.sterilizer = kLoad.sterilizer;
  program.document = mark("it");
  program.page = mark("it");
  program.entered_by = mark.who();
  program.entered_at = now;
  program.accepted_by = mark("i");
  write(office, EventKind::ProgramAdded, "x", mark.with_people({program}));
  core::Contents contents;
  contents.code = mark.put(kContents, "i");
  contents.name = mark("i");
  contents.items = {mark("")};
  write(office, EventKind::ContentsAdded, "x", {contents});
  write(office, EventKind::KindAdded, "x", {core::PackageKind{mark.put(kKind, "i"), mark("i"), core::Wrapping::Pouch, {}}});
  write(office, EventKind::LocationAdded, "x", {core::Location{mark.put(kPlace, ""), mark(""), {}}});
  const core::OfficeSetting setting{"biological", "daily", mark(""), mark.who(), now};
  write(office, EventKind::SettingChanged, "x", mark.with_people({setting}));
  const core::ServiceEntry service{1,     kLoad.sterilizer, core::ServiceKind::Repair, mark("it"), false, kDay,
                                   mark.who(), now};
  write(office, EventKind::SterilizerServiced, "x", mark.with_people({service}));
}

void fill_loads(OfficeAtWork& office, Marks& mark) {
  const core::Instant now = office.clock.now();
  const core::Package package = marked_package(mark, now);
  mark.put(package.id.text(), "i");
  core::PrintRun printed{1, mark(""), "ROLL"};
  printed.made_at = now;
  const core::CycleLog log{1, kLoad, mark("it"), mark("it"), "measured", "curve", mark.who(), now, mark("i")};
  write(office, EventKind::LoadStarted, kLoad.text(), mark.with_people({marked_load(mark, now), log, printed, package}));
  write(office, EventKind::PackageOpened, package.id.text(), {}, {{"visit", mark("")}}, mark("i"));
  write(office, EventKind::ReleaseRevoked, kLoad.text(), {}, {{"why", mark("i")}}, mark("i"));
  core::IndicatorReading indicator;
  indicator.number = 1;
  indicator.load = kLoad;
  indicator.lot = mark("i");
  indicator.package = package.id;
  indicator.read_by = mark.who();
  indicator.read_at = now;
  indicator.why = mark("i");
  core::BiologicalRun run;
  run.number = 1;
  run.load = kLoad;
  run.lot = mark("i");
  run.control_lot = mark("i");
  run.service = mark("i");
  run.placed_by = mark.who();
  run.placed_at = now;
  core::BiologicalReading result;
  result.number = 1;
  result.load = kLoad;
  result.lot = mark("i");
  result.control_lot = mark("i");
  result.read_by = mark.who();
  result.read_at = now;
  result.report_file = mark("i");
  result.why = mark("i");
  write(office, EventKind::IndicatorRead, kLoad.text(), mark.with_people({indicator, run, result}));
}

void fill_incidents(OfficeAtWork& office, Marks& mark) {
  const core::Instant now = office.clock.now();
  core::Incident incident;
  incident.number = 1;
  incident.sterilizer = kLoad.sterilizer;
  incident.load_number = kLoad.number;
  incident.program = mark("i");
  incident.profile = mark("i");
  incident.narrowed_why = mark("i");
  incident.opened_by = mark.who();
  incident.opened_at = now;
  incident.closed_by = mark("i");
  incident.closed_at = now;
  incident.note = mark("i");
  const core::IncidentStep step{1, 1, mark("i"), mark("i"), mark("i"), mark.who(), now};
  const core::Accounting accounting{1,         kPackage, core::Disposition::NotFound, mark("i"),
                                    mark.who(), now};
  write(office, EventKind::IncidentOpened, "1", mark.with_people({incident, step, accounting}));
}

app::RecordExport export_for(OfficeAtWork& office, ExportReader reader) {
  app::ExportRequest request;
  request.operator_code = "AB";
  request.reader = reader;
  return must(app::export_record(office.ports(), english(), request));
}

}  // namespace

TEST_CASE("Each reader of an export finds what the table grants and nothing of the rest") {
  OfficeAtWork office;
  Marks mark;
  fill_tables(office, mark);
  fill_loads(office, mark);
  fill_incidents(office, mark);
  mark.require_in(export_for(office, ExportReader::Inspector).archive, 'i');
  mark.require_in(export_for(office, ExportReader::Technician).archive, 't');
  mark.require_in(export_for(office, ExportReader::Research).archive, 'r');
}

TEST_CASE("Research learns months and no days and nothing that joins two exports") {
  OfficeAtWork office;
  Marks mark;
  fill_tables(office, mark);
  fill_loads(office, mark);
  const auto tables = [](const app::RecordExport& made) {
    return made.archive.substr(made.archive.find("biological-results.csv"));  // behind README.txt
  };
  const std::string first = tables(export_for(office, ExportReader::Research));
  const std::string second = tables(export_for(office, ExportReader::Research));
  CHECK(first.find("2026-11") != std::string::npos);
  CHECK(first.find("2026-11-") == std::string::npos);
  CHECK(first.find("134.25") != std::string::npos);
  std::set<std::string> names;
  for (const char* of : {"load-", "sterilizer-", "operator-", "office-"}) {
    const auto at = first.find(of);
    CAPTURE(of);
    REQUIRE(at != std::string::npos);
    const std::string name = first.substr(at, std::string_view{of}.size() + 10);
    CHECK(names.insert(name).second);
    CHECK(second.find(name) == std::string::npos);
  }
  const auto load = first.substr(first.find("load-"), 15);
  CHECK(first.find(load) != first.rfind(load));  // the load and its evidence find each other
}

TEST_CASE("An export is a lead's and stands on the record before it is handed out") {
  OfficeAtWork office;
  app::ExportRequest request;
  request.operator_code = "CD";
  const std::size_t before = office.ledger_size();
  REQUIRE(code_of(app::export_record(office.ports(), english(), request)) == "lead-required");
  request.operator_code = "AB";
  request.first = kDay.plus_days(1);
  request.last = kDay;
  REQUIRE(code_of(app::export_record(office.ports(), english(), request)) == "bad-value");
  REQUIRE(office.ledger_size() == before);
  request.first = *core::CivilDate::from(1900, 1, 1);
  request.reader = ExportReader::Technician;
  const auto made = must(app::export_record(office.ports(), english(), request));
  REQUIRE(made.name == "loadlight-technician-2026-11-25.tar");
  REQUIRE(office.newest_event_kind() == "record-exported");
  const auto events = must(must(office.store.begin(port::Access::Read))
                               ->events_about("technician", EventKind::RecordExported));
  REQUIRE(events.size() == 1);
  REQUIRE(events[0].operator_code == "AB");
  REQUIRE(events[0].details == core::Details{{"from", "1900-01-01"}, {"to", "2026-11-25"}});
}

TEST_CASE("An export holds the loads of its days alone") {
  OfficeAtWork office;
  office.released_package({"S1", 1});
  office.clock.turn_days(1);
  office.released_package({"S1", 2});
  app::ExportRequest request;
  request.operator_code = "AB";
  request.last = kDay;
  const auto made = must(app::export_record(office.ports(), english(), request));
  REQUIRE(made.loads == 1);
  REQUIRE(made.archive.find("S1-1") != std::string::npos);
  REQUIRE(made.archive.find("S1-2") == std::string::npos);
}

TEST_CASE("Whatever is not given as it is has its reason in words") {
  const auto look = [](const auto& table) {
    for (const auto& field : table.fields) {
      CAPTURE(table.name, field.name);
      CHECK(english().has("export.record." + std::string{table.name}));
      bool whole = true;
      for (const auto& term : core::Vocabulary<ExportReader>::kTerms) {
        const app::Gives gives = field.for_reader(term.value);
        whole = whole && gives == app::Gives::AsIs;
        if (gives == app::Gives::Pseudonym) CHECK(field.alias != app::Alias::None);
      }
      CHECK(whole == field.why.empty());
      if (!whole) CHECK(english().has("export.why." + std::string{field.why}));
    }
  };
  look(app::export_table<core::Office>());
  look(app::export_table<core::Operator>());
  look(app::export_table<core::Sterilizer>());
  look(app::export_table<core::OfficeProgram>());
  look(app::export_table<core::Contents>());
  look(app::export_table<core::PackageKind>());
  look(app::export_table<core::Load>());
  look(app::export_table<app::DecisionRow>());
  look(app::export_table<core::IndicatorReading>());
  look(app::export_table<core::BiologicalRun>());
  look(app::export_table<core::BiologicalReading>());
  look(app::export_table<core::CycleLog>());
  look(app::export_table<core::ServiceEntry>());
  look(app::export_table<core::Incident>());
  look(app::export_table<core::IncidentStep>());
  look(app::export_table<core::Accounting>());
  look(app::export_table<app::PackageRow>());
}

TEST_CASE("Whichever call of the store fails nothing is exported and no event is left") {
  require_all_or_nothing([](OfficeAtWork& office) { return office.released_package({"S1", 1}); },
                         [](OfficeAtWork& office, const core::Package&) {
                           app::ExportRequest request;
                           request.operator_code = "AB";
                           return app::export_record(office.ports(), english(), request).ok();
                         });
}

}  // namespace loadlight::tests
