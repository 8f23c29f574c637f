#include "group/station_operations.h"

#include <algorithm>

#include "loadlight/app/check_packages.h"
#include "loadlight/app/incidents.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/open_package.h"
#include "loadlight/app/print_labels.h"
#include "loadlight/app/release_load.h"
#include "loadlight/app/set_profile.h"

namespace loadlight::tests {
namespace {

using core::LoadState;
using core::Result;
using Planned = Result<std::optional<Attempt>>;

constexpr const char* kWho = "CD";
constexpr const char* kProgram = "dynamic-132-wrapped";
constexpr core::Readings kGoodReadings{132.5, 134, 4, 304, 20};
constexpr int kNewest = 10;  // loads of a sterilizer that anybody still works on

template <class T>
Result<void> told(const Result<T>& result) {
  if (!result) return result.failure();
  return {};
}

std::string some_sterilizer(Station& station) {
  return "S" + std::to_string(1 + station.draw(kSterilizers));
}

Result<std::vector<core::Load>> loads_in(Station& station, const std::string& sterilizer,
                                         std::initializer_list<LoadState> states) {
  const auto unit = station.ports().store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  auto loads = (*unit)->loads().newest_of(sterilizer, kNewest);
  if (!loads) return loads;
  std::erase_if(*loads, [&](const core::Load& load) {
    return std::find(states.begin(), states.end(), load.state) == states.end();
  });
  return loads;
}

// The oldest load in such a state, now and then another.
Result<std::optional<core::Load>> some_load(Station& station, std::initializer_list<LoadState> states) {
  const auto loads = loads_in(station, some_sterilizer(station), states);
  if (!loads) return loads.failure();
  if (loads->empty()) return std::optional<core::Load>{};
  const auto oldest = std::min_element(loads->begin(), loads->end(),
                                       [](const auto& a, const auto& b) { return a.name.number < b.name.number; });
  if (station.draw(4) != 0) return std::optional{*oldest};
  return std::optional{(*loads)[static_cast<std::size_t>(station.draw(static_cast<int>(loads->size())))]};
}

Result<std::vector<core::Package>> packages_of(Station& station, const core::LoadName& load, core::PackageState state) {
  const auto unit = station.ports().store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  auto packages = (*unit)->packages().of_load(load);
  if (!packages) return packages;
  std::erase_if(*packages, [&](const core::Package& package) { return package.state != state; });
  return packages;
}

Result<std::optional<core::Package>> some_package(Station& station, std::initializer_list<LoadState> states,
                                                  core::PackageState state) {
  const auto load = some_load(station, states);
  if (!load) return load.failure();
  if (!*load) return std::optional<core::Package>{};
  const auto packages = packages_of(station, (**load).name, state);
  if (!packages) return packages.failure();
  if (packages->empty()) return std::optional<core::Package>{};
  return std::optional{(*packages)[static_cast<std::size_t>(station.draw(static_cast<int>(packages->size())))]};
}

Planned nothing() {
  return std::optional<Attempt>{};
}

template <class Act>
Planned on_load(Station& station, std::string_view operation, std::initializer_list<LoadState> states, Act act) {
  const auto load = some_load(station, states);
  if (!load) return load.failure();
  if (!*load) return nothing();
  return std::optional{Attempt{operation, (**load).name.text(),
                               [&station, act, name = (**load).name] { return told(act(station, name)); }}};
}

template <class Act>
Planned on_package(Station& station, std::string_view operation, core::PackageState state, Act act) {
  const auto package = some_package(station, {LoadState::Released}, state);
  if (!package) return package.failure();
  if (!*package) return nothing();
  return std::optional{Attempt{operation, (**package).id.text(),
                               [&station, act, one = **package] { return told(act(station, one)); }}};
}

app::PrintRequest labels_for(const core::LoadName& load, int count) {
  app::PrintRequest request;
  request.operator_code = kWho;
  request.contents = "EXAM";
  request.count = count;
  request.load = load;
  request.kind = "PCH";
  request.packed = true;
  request.paper.out = "labels.pdf";
  return request;
}

// For the sterilizer's next number while few loads of it wait, else for one whose number is given out already. Nobody
// packs on while much awaits the sterilizer.
Planned print(Station& station) {
  const std::string sterilizer = some_sterilizer(station);
  const auto waiting = loads_in(station, sterilizer, {LoadState::Reserved});
  if (!waiting) return waiting.failure();
  const auto under_way = loads_in(station, sterilizer, {LoadState::Open, LoadState::Running, LoadState::Finished});
  if (!under_way) return under_way.failure();
  if (under_way->size() > 3) return nothing();
  const auto unit = station.ports().store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto highest = (*unit)->loads().highest_number(sterilizer);
  if (!highest) return highest.failure();
  const bool is_new = waiting->empty() || (waiting->size() == 1 && station.draw(3) == 0);
  const core::LoadName load = is_new ? core::LoadName{sterilizer, *highest + 1} : waiting->front().name;
  const int count = 1 + station.draw(4);
  return std::optional{Attempt{"print", load.text(), [&station, load, count] {
    return told(app::print_labels(station.ports(), station.shop(), labels_for(load, count)));
  }}};
}

Planned open_load(Station& station) {
  return on_load(station, "load-open", {LoadState::Reserved}, [](Station& s, const core::LoadName& load) {
    return app::open_load(s.ports(), {kWho, load.sterilizer, kProgram, core::LoadPurpose::Process, load.number, std::nullopt});
  });
}

Planned add(Station& station) {
  const auto load = some_load(station, {LoadState::Open});
  if (!load) return load.failure();
  if (!*load) return nothing();
  const auto packages = packages_of(station, (**load).name, core::PackageState::Labelled);
  if (!packages) return packages.failure();
  if (packages->empty()) return nothing();
  std::vector<std::string> ids;
  for (const core::Package& package : *packages) ids.push_back(package.id.text());
  return std::optional{Attempt{"load-add", (**load).name.text(), [&station, ids, name = (**load).name] {
    return told(app::add_to_load(station.ports(), {kWho, name, ids, {}}));
  }}};
}

// Only what has packages aboard: another station may well take them out or start it meanwhile.
Planned start(Station& station) {
  const auto package = some_package(station, {LoadState::Open}, core::PackageState::Loaded);
  if (!package) return package.failure();
  if (!*package) return nothing();
  return std::optional{Attempt{"load-start", (**package).load.text(), [&station, name = (**package).load] {
    return told(app::start_load(station.ports(), {kWho, name}));
  }}};
}

Planned finish(Station& station) {
  return on_load(station, "load-finish", {LoadState::Running}, [](Station& s, const core::LoadName& load) {
    return app::finish_load(s.ports(), {kWho, load, "", std::nullopt});
  });
}

Planned readings(Station& station) {
  return on_load(station, "readings", {LoadState::Finished}, [](Station& s, const core::LoadName& load) {
    return app::record_readings(s.ports(), {kWho, load, kGoodReadings, ""});
  });
}

app::IndicatorRequest good_indicator(const core::LoadName& load) {
  app::IndicatorRequest request;
  request.operator_code = kWho;
  request.load = load;
  request.lot = "CI7";
  request.expires = *core::CivilDate::from(2030, 1, 1);
  request.passed = true;
  return request;
}

Planned indicator(Station& station) {
  return on_load(station, "indicator", {LoadState::Finished}, [](Station& s, const core::LoadName& load) {
    return app::record_indicator(s.ports(), good_indicator(load));
  });
}

Planned release(Station& station) {
  return on_load(station, "release", {LoadState::Finished}, [](Station& s, const core::LoadName& load) {
    return app::release_load(s.ports(), {kWho, load, "", ""});
  });
}

// What the record did not allow holds: the answer says so, and is told as such a failure.
Result<void> check_one(Station& station, const core::Package& package) {
  app::CheckRequest request;
  request.items = {{app::CheckItem::How::Symbol, package.payload, std::nullopt}};
  const app::CheckReply reply = app::check_packages(station.ports(), request).front();
  for (const core::Reason reason : reply.verdict.reasons()) {
    if (reason == core::Reason::RecordUnreachable) return core::Failure{core::FailureCode::OfficeUnreadable, {}, {}};
  }
  return {};
}

Planned check(Station& station) {
  return on_package(station, "check", core::PackageState::Loaded,
                    [](Station& s, const core::Package& package) { return check_one(s, package); });
}

// Judged and found wanting is an answer as well, told apart by the failure that the command line gives it.
Planned open_package(Station& station) {
  return on_package(station, "open", core::PackageState::Loaded, [](Station& s, const core::Package& package) -> Result<void> {
    const auto opened =
        app::open_package(s.ports(), {kWho, package.payload, "V-1", true, true, core::IndicatorLook::Changed, ""});
    if (!opened) return opened.failure();
    if (opened->outcome == app::OpenOutcome::Refused) return core::Failure{core::FailureCode::NotOpenable, {}, {}};
    return {};
  });
}

// One in eighty did not change: an incident.
Planned opened(Station& station) {
  const bool changed = station.draw(80) != 0;
  return on_package(station, "opened", core::PackageState::Opened, [changed](Station& s, const core::Package& package) {
    const auto look = changed ? core::IndicatorLook::Changed : core::IndicatorLook::Unchanged;
    return app::record_internal_indicator(s.ports(), {kWho, package.id.text(), look});
  });
}

Planned withdraw(Station& station) {
  return on_package(station, "withdraw", core::PackageState::Loaded, [](Station& s, const core::Package& package) {
    return app::withdraw_package(s.ports(), {kWho, package.id.text(), core::WithdrawReason::Dropped});
  });
}

Planned shelve(Station& station) {
  const std::string location = "SHELF" + std::to_string(1 + station.draw(3));
  return on_package(station, "shelve", core::PackageState::Loaded, [location](Station& s, const core::Package& package) {
    return app::shelve_packages(s.ports(), {kWho, {package.id.text()}, location});
  });
}

// The next step that a person may do of one of the open incidents, with the mildest finding; then its end.
Planned incident_step(Station& station) {
  const auto unit = station.ports().store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto open = (*unit)->incidents().open_ones();
  if (!open) return open.failure();
  if (open->empty()) return nothing();
  const int number = (*open)[static_cast<std::size_t>(station.draw(static_cast<int>(open->size())))].number;
  const auto view = app::show_incident(station.ports(), number);
  if (!view) return view.failure();
  const std::string subject = std::to_string(number);
  for (const core::StepStatus& step : view->steps) {
    if (step.state != core::StepState::Due) continue;
    return std::optional{Attempt{"incident-step", subject, [&station, number, code = std::string{step.code}] {
      return told(app::do_step(station.ports(), {"AB", number, code, std::string{core::findings_of(code).front().code}, ""}));
    }}};
  }
  return std::optional{Attempt{"incident-close", subject, [&station, number] {
    return told(app::close_incident(station.ports(), {"AB", number, "looked into"}));
  }}};
}

constexpr OperationRow kOperations[] = {
    {print, 10},   {open_load, 4},   {add, 6},     {start, 4},         {finish, 4},   {readings, 4}, {indicator, 4},
    {release, 5},  {check, 36},      {open_package, 11}, {opened, 5}, {withdraw, 1}, {shelve, 5},   {incident_step, 1}};

}  // namespace

std::span<const OperationRow> all_operations() {
  return kOperations;
}

void found_office(Station& station) {
  const app::Ports ports = station.ports();
  need("make the office", app::make_office(ports, {"Harbour Row", "UTC", "us-cdc-2003", "en", 180}));
  const std::pair<app::OfficeTable, const char*> tables[] = {
      {app::OfficeTable::Operators, "code,name,role\nAB,Ada B,lead\nCD,Cor D,staff\n"},
      {app::OfficeTable::Sterilizers,
       "code,name,removal,type\nS1,First,dynamic,B\nS2,Second,dynamic,B\nS3,Third,dynamic,B\nS4,Fourth,dynamic,B\n"},
      {app::OfficeTable::Contents, "code,name,implant,hollow\nEXAM,Exam set,no,no\n"},
      {app::OfficeTable::Kinds, "code,name,wrapping\nPCH,Pouch,pouch\n"},
      {app::OfficeTable::Locations, "code,name\nSHELF1,First shelf\nSHELF2,Second shelf\nSHELF3,Third shelf\n"},
      {app::OfficeTable::Stocks, "code,name,method,dpi,rating,rating_note\nROLL,Roll,thermal-transfer,300,maker-sheet,page 2\n"}};
  for (const auto& [table, csv] : tables) need("fill the tables", app::import_entries(ports, "AB", table, csv));
  need("set the daily test aside", app::set_profile_value(ports, {"AB", "air-removal-test", "off", "for the test"}));
}

std::string release_package(Station& station) {
  const app::Ports ports = station.ports();
  const core::LoadName load{"S1", 1};
  const auto printed = need("print", app::print_labels(ports, station.shop(), labels_for(load, 1)));
  const core::Package& package = printed.packages.front();
  need("open", told(app::open_load(ports, {kWho, load.sterilizer, kProgram, core::LoadPurpose::Process, load.number, std::nullopt})));
  need("add", told(app::add_to_load(ports, {kWho, load, {package.id.text()}, {}})));
  need("start", told(app::start_load(ports, {kWho, load})));
  need("finish", told(app::finish_load(ports, {kWho, load, "", std::nullopt})));
  need("readings", told(app::record_readings(ports, {kWho, load, kGoodReadings, ""})));
  need("indicator", told(app::record_indicator(ports, good_indicator(load))));
  need("release", told(app::release_load(ports, {kWho, load, "", ""})));
  return package.payload;
}

}  // namespace loadlight::tests
