#include "app/office_at_work.h"

#include <fstream>
#include <sstream>

#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/set_profile.h"

namespace loadlight::tests {
namespace {

core::Instant noon() {
  using namespace std::chrono;
  return sys_days{year{2026} / November / 25} + hours{12};
}

core::Result<label::LabelTemplate> find_template(std::string_view name) {
  const std::string path = LOADLIGHT_SOURCE_DIR "/templates/labels/" + std::string{name} + ".label";
  return label::parse_template(name, file_text(path));
}

std::string program_for(const std::string& sterilizer) {
  return sterilizer == "S2" ? "steam-121" : "dynamic-132-wrapped";
}

core::Readings good_readings(const std::string& sterilizer) {
  if (sterilizer == "S2") return {121, 123, 15, 205, std::nullopt};
  return {132.5, 134, 4, 304, 20};
}

std::vector<std::string> ids_of(const std::vector<core::Package>& packages) {
  std::vector<std::string> ids;
  for (const core::Package& package : packages) ids.push_back(package.id.text());
  return ids;
}

}  // namespace

std::string file_text(const std::string& path) {
  const std::ifstream file{path};
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

const report::Words& english() {
  static const report::Words words =
      must(report::Words::parse(file_text(LOADLIGHT_SOURCE_DIR "/templates/words/en.json")));
  return words;
}

core::Failure broken_store() {
  return {core::FailureCode::RecordDamaged, {{"why", "broken on purpose"}}, {}};
}

OfficeAtWork::OfficeAtWork(std::string profile, std::optional<int> shelf_life_days, DailyTests daily)
    : clock(noon()) {
  must(app::make_office(ports(), {"Harbour Row", "UTC", std::move(profile), "en", shelf_life_days}));
  const std::pair<app::OfficeTable, const char*> tables[] = {
      {app::OfficeTable::Operators, "code,name,role\nAB,Ada B,lead\nCD,Cor D,staff\n"},
      {app::OfficeTable::Sterilizers, "code,name,removal,type\nS1,First,dynamic,B\nS2,Second,gravity,N\n"},
      {app::OfficeTable::Contents,
       "code,name,implant,hollow\nEXAM,Exam set,no,no\nIMPL,Implant set,yes,no\nHOLLOW,Suction tip,no,yes\n"},
      {app::OfficeTable::Kinds,
       "code,name,wrapping\nPCH,Pouch,pouch\nCAS,Cassette,wrapped-cassette\nUNW,Open tray,unwrapped\n"},
      {app::OfficeTable::Locations, "code,name\nSHELF1,First shelf\n"},
      {app::OfficeTable::Stocks,
       "code,name,method,dpi,rating,rating_note\nROLL,Roll,thermal-transfer,300,maker-sheet,page 2\n"
       "DIRECT,Till roll,direct-thermal,300,,\nNEW,Sheets,laser,600,,\n"}};
  for (const auto& [table, csv] : tables) must(app::import_entries(ports(), "AB", table, csv));
  if (daily == DailyTests::SetAside) set("air-removal-test", "off");
}

void OfficeAtWork::set(std::string name, std::string value) {
  must(app::set_profile_value(ports(), {"AB", std::move(name), std::move(value), "for the test"}));
}

app::PrintShop OfficeAtWork::shop() const {
  const label::Words words = [](std::string_view key,
                                const core::Details& gaps) -> std::optional<std::string> {
    if (!english().has(key)) return std::nullopt;
    return english().text(key, gaps);
  };
  return {encoder, gauge, press, files, words, find_template};
}

app::PrintRequest OfficeAtWork::print_request(const core::LoadName& load, std::string contents) const {
  app::PrintRequest request;
  request.operator_code = "CD";
  request.contents = std::move(contents);
  request.load = load;
  request.kind = "PCH";
  request.packed = true;
  request.paper.out = "labels.pdf";
  return request;
}

std::vector<core::Package> OfficeAtWork::print(const core::LoadName& load, int count, std::string contents) {
  app::PrintRequest request = print_request(load, std::move(contents));
  request.count = count;
  return must(app::print_labels(ports(), shop(), request)).packages;
}

core::Load OfficeAtWork::start(const core::LoadName& load, const std::vector<core::Package>& packages) {
  must(app::open_load(ports(), {"CD", load.sterilizer, program_for(load.sterilizer),
                                core::LoadPurpose::Process, load.number, std::nullopt}));
  must(app::add_to_load(ports(), {"CD", load, ids_of(packages), {}}));
  return must(app::start_load(ports(), {"CD", load})).load;
}

core::Load OfficeAtWork::finish(const core::LoadName& load) {
  clock.turn(std::chrono::minutes{45});
  return must(app::finish_load(ports(), {"CD", load, "", std::nullopt})).load;
}

void OfficeAtWork::give_evidence(const core::LoadName& load) {
  must(app::record_readings(ports(), {"CD", load, good_readings(load.sterilizer), ""}));
  app::IndicatorRequest indicator;
  indicator.operator_code = "CD";
  indicator.load = load;
  indicator.lot = "CI7";
  indicator.expires = *core::CivilDate::from(2030, 1, 1);
  indicator.passed = true;
  must(app::record_indicator(ports(), indicator));
}

app::LoadReply OfficeAtWork::release(const core::LoadName& load) {
  return must(app::release_load(ports(), {"CD", load, "", ""}));
}

core::Package OfficeAtWork::released_package(const core::LoadName& load, std::string contents) {
  const auto packages = print(load, 1, std::move(contents));
  start(load, packages);
  finish(load);
  give_evidence(load);
  REQUIRE(release(load).load.state == core::LoadState::Released);
  return now(packages.front());
}

app::CheckReply OfficeAtWork::check(const std::string& text) {
  app::CheckRequest request;
  request.items = {{app::CheckItem::How::Symbol, text, std::nullopt}};
  return app::check_packages(ports(), request).front();
}

app::CheckReply OfficeAtWork::check_typed(const std::string& id) {
  app::CheckRequest request;
  request.items = {{app::CheckItem::How::TypedId, id, std::nullopt}};
  return app::check_packages(ports(), request).front();
}

core::Result<app::OpenReply> OfficeAtWork::open(const core::Package& package) {
  return app::open_package(ports(),
                           {"CD", package.payload, "V-1", true, true, core::IndicatorLook::Changed, ""});
}

core::Result<app::BiologicalReply> OfficeAtWork::biological(const core::LoadName& load,
                                                            core::BiologicalTest test,
                                                            core::BiologicalControl control) {
  app::BiologicalRequest request;
  request.operator_code = "CD";
  request.load = load;
  request.lot = request.control_lot = "BI3";
  request.test = test;
  request.control = control;
  request.why = "as read";
  return app::record_biological(ports(), request);
}

std::optional<core::Package> OfficeAtWork::package(const core::PackageId& id) {
  return must(must(store.begin(port::Access::Read))->packages().find(id));
}

core::Load OfficeAtWork::load(const core::LoadName& name) {
  return *must(must(store.begin(port::Access::Read))->loads().find(name));
}

std::size_t OfficeAtWork::ledger_size() {
  std::size_t size = 0;
  must(store.each_entry([&](const core::LedgerEntry&) { return ++size > 0; }));
  return size;
}

std::string OfficeAtWork::newest_event_kind() {
  std::string kind;
  must(store.each_entry([&](const core::LedgerEntry& entry) { return !(kind = entry.kind).empty(); }));
  return kind;
}

}  // namespace loadlight::tests
