#include "full_office.h"

#include <filesystem>

#include "loadlight/store/record.h"
#include "raw_sql.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

std::vector<Record> office_tables() {
  Operator gone = an_operator("CD");
  gone.last_day = day(2026, 6, 30);
  Sterilizer sterilizer = a_sterilizer("S2");
  sterilizer.retired_on = day(2026, 6, 30);
  Contents contents = some_contents("OLD");
  contents.retired_on = day(2026, 6, 30);
  PackageKind kind = a_kind("OLD");
  kind.retired_on = day(2026, 6, 30);
  Location location = a_location("OLD");
  location.retired_on = day(2026, 6, 30);
  LabelStock stock = a_stock("OLD");
  stock.retired_on = day(2026, 6, 30);
  return {gone,
          sterilizer,
          contents,
          kind,
          location,
          stock,
          a_program("P"),
          a_consumable("B-1"),
          a_setting("biological"),
          a_service(1)};
}

Package opened_package() {
  Package package = a_package(1, 1, PackageState::Opened);
  package.use_by = day(2027, 5, 24);
  package.chart_payload = "LLC1.";
  package.replaced_by = package_id(2);
  package.location = "SHELF1";
  package.withdrawn_because = WithdrawReason::Torn;
  package.opened_at = moment(60);
  package.visit = "A-1";
  package.internal_indicator = IndicatorLook::Changed;
  return package;
}

Load finished_load() {
  Load load = a_load(1, LoadState::Released);
  load.program = "steam-132";
  load.loose_items = {{"EXAM", 3}};
  load.opened_at = moment(1);
  load.started_at = moment(2);
  load.process_date = day(2026, 11, 25);
  load.run = 1;
  load.finished_at = moment(3);
  load.machine_counter = 41;
  load.readings = Readings{132.1, 134.5, 4.0, 304.0, 20.0};
  load.cycle_log = 1;
  load.leak = LeakTest{0.1, true};
  load.retest_of = 1;
  load.decided_at = moment(4);
  load.decided_by = "AB";
  return load;
}

std::vector<Record> evidence() {
  IndicatorReading of_package = an_indicator(2);
  of_package.package = package_id(1);
  BiologicalReading of_run = a_biological(1);
  of_run.of_run = 1;
  of_run.received_on = day(2026, 11, 27);
  Incident closed = an_incident(1);
  closed.program = "steam-134";
  closed.closed_by = "AB";
  closed.closed_at = moment(9);
  return {an_indicator(1), of_package, a_biological_run(1), of_run,
          a_cycle_log(1),  closed,     a_step(1),           an_accounting(1, 2)};
}

}  // namespace

void fill(port::Store& store) {
  write(store,
        {founding(), a_change(EventKind::OperatorRetired, 1, office_tables()),
         a_change(EventKind::LabelsPrinted, 2, {a_package(1), a_package(2), a_package(3)}),
         a_change(EventKind::BiologicalRead, 3, evidence()),
         a_change(EventKind::LoadReleased, 4, {finished_load()}),
         a_change(EventKind::PackageOpened, 5, {opened_package()}), a_change(EventKind::PackageChecked, 6)});
}

FullOffice::FullOffice() {
  fill(*must(create_record(folder_.path())));
}

std::vector<port::Alteration> FullOffice::after(const std::string& sql) const {
  const TemporaryFolder copy;
  std::filesystem::copy_file(record(), copy.record());
  RawSql raw{copy.record()};
  const auto rules = raw.rows("SELECT sql FROM sqlite_schema WHERE type = 'trigger'");
  raw.run("DROP TRIGGER ledger_refuses_update; DROP TRIGGER ledger_refuses_delete");
  raw.run(sql);
  const bool ledger = !raw.rows("SELECT name FROM sqlite_schema WHERE name = 'ledger'").empty();
  for (const auto& rule : rules) {
    if (ledger) raw.run(rule[0]);
  }
  return must(must(open_record(copy.path()))->verify());
}

std::string text(const std::vector<port::Alteration>& alterations) {
  std::string text;
  for (const auto& one : alterations) text += (text.empty() ? "" : ", ") + one.where + " " + one.what;
  return text;
}

}  // namespace loadlight::store
