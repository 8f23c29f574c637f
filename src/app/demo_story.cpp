#include "app/demo_story.h"

#include <algorithm>
#include <cstdlib>

#include "loadlight/app/change_labels.h"
#include "loadlight/app/incidents.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/open_package.h"
#include "loadlight/app/read_cycle_log.h"
#include "loadlight/app/release_load.h"
#include "loadlight/app/service_sterilizer.h"
#include "loadlight/core/payload.h"
#include "loadlight/core/programs.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using std::chrono::hours;
using std::chrono::minutes;

constexpr const char* kLead = "MB";
constexpr const char* kSpores = "BI-310";
constexpr const char* kLaboratory = "Fernlicht laboratory";
constexpr int kMostSteps = 40;  // of any procedure, its retests included

// What the story's people find at each step, where the procedure asks it.
constexpr std::pair<const char*, const char*> kFindings[] = {
    {"notify", "done"},          {"recall-implants", "recalled"}, {"recall-everything", "recalled"},
    {"review-records", "fine"},  {"review-procedures", "defect"}, {"judge-positive", "malfunction"},
    {"inspect", "defect"},       {"repair", "repaired"},          {"check-settings", "fine"},
    {"check-utilities", "fine"}, {"check-indicator", "fine"},
};

std::string finding_for(std::string_view step) {
  for (const auto& [code, finding] : kFindings) {
    if (step == code) return finding;
  }
  return "done";
}

// Lots that the story uses, in date for months to come.
std::vector<Row> consumables(core::CivilDate today) {
  const auto lot = [&](const char* code, const char* kind, const char* name, int months) {
    return Row{{"lot", code}, {"kind", kind}, {"name", name}, {"expires", today.plus_months(months).iso()}};
  };
  return {lot("CI-0417", "chemical", "Process tape", 14), lot("BD-22", "air-removal", "Bowie-Dick pack", 9),
          lot(kSpores, "biological", "Spore strip with control", 8)};
}

}  // namespace

const DemoLog* DemoFiles::find(const std::string& name) const {
  const auto log =
      std::find_if(logs_.begin(), logs_.end(), [&](const DemoLog& one) { return one.name == name; });
  return log == logs_.end() ? nullptr : &*log;
}

Result<std::string> DemoFiles::read(const std::string& path, std::size_t) const {
  const DemoLog* log = find(path);
  if (!log) return Failure{FailureCode::FileUnreadable, {{"path", path}, {"why", "absent"}}, {}};
  return log->text;
}

Result<void> DemoFiles::each_chunk(const std::string& path,
                                   const std::function<bool(const Chunk&)>& take) const {
  const DemoLog* log = find(path);
  if (!log) return Failure{FailureCode::FileUnreadable, {{"path", path}, {"why", "absent"}}, {}};
  take({log->text, 0, log->text.size()});
  return {};
}

core::Readings good_run(const char* program_code, double pressure_kpa) {
  const core::Program* program = core::find_program(program_code);
  if (!program) return {};
  return {program->celsius + 0.5, program->celsius + 2, program->exposure_minutes + 0.5, pressure_kpa,
          program->drying_minutes + 2};
}

Story::Story(const Ports& ports, const PrintShop& shop, const DemoTables& tables)
    : zone_(ports.zone),
      tables_(tables),
      files_(tables.logs),
      ports_{ports.store, clock_, ports.zone, ports.keyring},
      shop_(quiet(shop)) {}

PrintShop Story::quiet(const PrintShop& shop) const {
  return PrintShop{shop.encoder, shop.gauge, press_, files_, shop.words, shop.find_template};
}

void Story::begin(core::Instant at, const OfficeRequest& request) {
  clock_.set(at);
  trouble_.note(make_office(ports_, request));
  for (const auto& [table, csv] : tables_.csv) {
    if (trouble_.none()) trouble_.note(import_entries(ports_, kLead, table, csv));
  }
  if (!trouble_.none()) return;
  trouble_.note(add_entries(ports_, kLead, OfficeTable::Consumables, consumables(zone_.local_date(at))));
  for (const char* sterilizer : {"S1", "S2"}) {
    trouble_.note(record_service(
        ports_, {kLead, sterilizer, core::ServiceKind::Maintenance, "yearly maintenance by the maker", false,
                 zone_.local_date(at).plus_months(12)}));
  }
}

core::Instant Story::morning(core::Instant now, int days) const {
  const core::Instant then = now - hours{24 * days};
  const std::string text = zone_.local_text(then);  // "YYYY-MM-DD HH:MM"
  return then - hours{std::atoi(text.c_str() + 11)} - minutes{std::atoi(text.c_str() + 14)} + hours{8};
}

std::chrono::weekday Story::weekday(core::Instant at) const {
  return std::chrono::weekday{std::chrono::sys_days{zone_.local_date(at).calendar()}};
}

std::vector<core::Package> Story::run(core::Instant at, const LoadPlan& plan, const std::string& who) {
  if (!trouble_.none()) return {};
  clock_.set(at);
  const auto load = trouble_.take(
      open_load(ports_, {who, plan.sterilizer, plan.program, core::LoadPurpose::Process, {}, {}}),
      core::Load{});
  std::vector<core::Package> packages = print(plan, load.name, who);
  if (!trouble_.none() || plan.ending == Ending::NotStarted) return packages;
  clock_.pass(minutes{20});
  std::vector<std::string> ids;
  for (const core::Package& package : packages) ids.push_back(package.id.text());
  trouble_.note(add_to_load(ports_, {who, load.name, ids, {}}));
  if (plan.spores != LoadPlan::Spores::None) {
    const bool mailed = plan.spores == LoadPlan::Spores::MailIn;
    trouble_.note(
        place_biological(ports_, {who,
                                  load.name,
                                  kSpores,
                                  kSpores,
                                  mailed ? core::BiologicalReader::MailIn : core::BiologicalReader::Office,
                                  mailed ? kLaboratory : "",
                                  {}}));
  }
  trouble_.note(start_load(ports_, {who, load.name}));
  if (plan.ending == Ending::Running) return packages;
  clock_.pass(minutes{58});
  trouble_.note(finish_load(ports_, {who, load.name, "", {}}));
  end(plan, load.name, packages, who);
  return packages;
}

std::vector<core::Package> Story::print(const LoadPlan& plan, const core::LoadName& load,
                                        const std::string& who) {
  std::vector<core::Package> packages;
  for (const Batch& batch : plan.batches) {
    const PrintRequest request{who, batch.contents, batch.count, load, batch.kind, {}, true, {}};
    const auto reply = trouble_.take(print_labels(ports_, shop_, request), PrintReply{});
    packages.insert(packages.end(), reply.packages.begin(), reply.packages.end());
    clock_.pass(minutes{3});
  }
  return packages;
}

void Story::give_evidence(const LoadPlan& plan, const core::LoadName& load, const std::string& who) {
  if (const DemoLog* log = plan.log ? files_.find(plan.log) : nullptr) {
    trouble_.note(
        read_cycle_log(ports_, files_, {who, load, log->name, log->mapping_name, log->mapping, ""}, {}));
  } else {
    core::Readings readings = plan.readings;
    if (plan.ending == Ending::TooShort) readings.minutes /= 2;
    trouble_.note(record_readings(ports_, {who, load, readings, ""}));
  }
  const auto expires = zone_.local_date(clock_.now()).plus_months(10);
  trouble_.note(record_indicator(
      ports_, {who, load, core::IndicatorPlace::External, 1, "CI-0417", expires, true, {}, {}, {}, ""}));
}

void Story::end(const LoadPlan& plan, const core::LoadName& load, const std::vector<core::Package>& packages,
                const std::string& who) {
  if (plan.ending == Ending::Unreleased || !trouble_.none()) return;
  give_evidence(plan, load, who);
  clock_.pass(minutes{4});
  trouble_.note(release_load(ports_, {kLead, load, "", ""}));
  std::vector<std::string> ids;
  for (const core::Package& package : packages) ids.push_back(package.id.text());
  const bool shelved = plan.ending == Ending::Released || plan.ending == Ending::Recalled;
  if (shelved) trouble_.note(shelve_packages(ports_, {who, ids, plan.location}));
  if (plan.ending == Ending::Recalled) {
    clock_.pass(minutes{120});
    trouble_.note(recall_load(ports_, {kLead, load, "door seal found cracked after the run"}));
  }
}

void Story::test_air_removal(core::Instant at, const std::string& who) {
  if (!trouble_.none()) return;
  clock_.set(at);
  const auto load = trouble_.take(
      open_load(ports_, {who, "S1", "steam-134", core::LoadPurpose::BowieDick, {}, {}}), core::Load{});
  trouble_.note(start_load(ports_, {who, load.name}));
  clock_.pass(minutes{18});
  trouble_.note(finish_load(ports_, {who, load.name, "", {}}));
  const auto expires = zone_.local_date(clock_.now()).plus_months(9);
  trouble_.note(record_indicator(
      ports_,
      {who, load.name, core::IndicatorPlace::ProcessChallenge, 2, "BD-22", expires, true, {}, {}, {}, ""}));
  trouble_.note(release_load(ports_, {kLead, load.name, "", ""}));
}

void Story::read_spores(core::Instant at, core::BiologicalReader reader) {
  if (!trouble_.none()) return;
  clock_.set(at);
  const auto unit = ports_.store.begin(port::Access::Read);
  if (!unit) return trouble_.note(unit);
  const auto open = trouble_.take((**unit).evidence().open_runs(), std::vector<core::BiologicalRun>{});
  for (const core::BiologicalRun& run : open) {
    if (run.reader != reader) continue;
    trouble_.note(record_biological(ports_, {kLead,
                                             run.load,
                                             run.lot,
                                             core::BiologicalTest::NoGrowth,
                                             core::BiologicalControl::Growth,
                                             run.control_lot,
                                             {},
                                             {},
                                             "",
                                             ""}));
  }
}

// One retest in an empty chamber, its indicator read at once by a rapid reader.
void Story::retest(const core::LoadName& as, const std::string& program, int incident) {
  const auto load = trouble_.take(
      open_load(ports_, {"JT", as.sterilizer, program, core::LoadPurpose::Retest, {}, incident}),
      core::Load{});
  trouble_.note(
      place_biological(ports_, {"JT", load.name, kSpores, kSpores, core::BiologicalReader::Office, "", 1}));
  trouble_.note(start_load(ports_, {"JT", load.name}));
  clock_.pass(minutes{50});
  trouble_.note(finish_load(ports_, {"JT", load.name, "", {}}));
  trouble_.note(record_readings(ports_, {"JT", load.name, good_run(program.c_str(), 209), ""}));
  trouble_.note(record_indicator(ports_, {"JT",
                                          load.name,
                                          core::IndicatorPlace::External,
                                          1,
                                          "CI-0417",
                                          zone_.local_date(clock_.now()).plus_months(9),
                                          true,
                                          {},
                                          {},
                                          {},
                                          ""}));
  clock_.pass(minutes{60});
  trouble_.note(record_biological(ports_, {"JT",
                                           load.name,
                                           kSpores,
                                           core::BiologicalTest::NoGrowth,
                                           core::BiologicalControl::Growth,
                                           kSpores,
                                           {},
                                           {},
                                           "",
                                           ""}));
  trouble_.note(release_load(ports_, {kLead, load.name, "", ""}));
}

// Does what the procedure asks next; false once it asks nothing more of the sterilizer.
bool Story::take_next_step(int incident, const core::LoadName& load, const std::string& program) {
  const auto view = trouble_.take(show_incident(ports_, incident), IncidentView{});
  if (!trouble_.none()) return false;
  for (const core::StepStatus& step : view.steps) {
    if (step.state != core::StepState::Due) continue;
    clock_.pass(minutes{12});
    if (step.kind == core::StepKind::Retest) {
      retest(load, program, incident);
    } else {
      trouble_.note(do_step(ports_, {kLead, incident, std::string{step.code}, finding_for(step.code), ""}));
    }
    return trouble_.none();
  }
  return false;
}

void Story::account_for_packages(int incident) {
  const auto view = trouble_.take(show_incident(ports_, incident), IncidentView{});
  bool one_is_lost = false;
  for (const Suspect& suspect : view.suspects) {
    if (!trouble_.none() || suspect.disposition || !suspect.called_back) continue;
    const auto disposition = one_is_lost ? core::Disposition::Reprocessed : core::Disposition::NotFound;
    trouble_.note(
        account_for(ports_, {"JT", incident, suspect.package.id.text(), disposition,
                             one_is_lost ? "" : "on no shelf, in no operatory; thought to be in the wash"}));
    one_is_lost = true;
  }
}

void Story::spores_grew(core::Instant at, const core::LoadName& load) {
  if (!trouble_.none()) return;
  clock_.set(at);
  const auto grew = trouble_.take(
      record_biological(
          ports_, {kLead, load, kSpores, core::BiologicalTest::Growth, core::BiologicalControl::Growth,
                   kSpores, zone_.local_date(at).plus_days(-3), zone_.local_date(at), "report-0173.pdf", ""}),
      BiologicalReply{});
  if (!grew.incident) return;
  const int incident = grew.incident->number;
  for (int i = 0; i < kMostSteps && take_next_step(incident, load, grew.load.program); ++i) {
  }
  account_for_packages(incident);
  if (!trouble_.none()) return;
  trouble_.note(record_service(ports_, {kLead,
                                        load.sterilizer,
                                        core::ServiceKind::Repair,
                                        "steam trap replaced by the maker's technician",
                                        false,
                                        {}}));
  trouble_.note(return_to_service(ports_, {kLead, load.sterilizer, "repaired, retests negative"}));
  trouble_.note(close_incident(ports_, {kLead, incident, "steam trap"}));
}

void Story::open(core::Instant at, const core::Package& package, const std::string& visit) {
  if (!trouble_.none()) return;
  clock_.set(at);
  OpenRequest request{"AK", package.id.text(), visit, true, true, core::IndicatorLook::Changed, ""};
  trouble_.note(open_package(ports_, request));
  trouble_.note(record_internal_indicator(ports_, {"AK", package.id.text(), core::IndicatorLook::Changed}));
}

void Story::withdraw(const core::Package& package) {
  trouble_.note(withdraw_package(ports_, {"JT", package.id.text(), core::WithdrawReason::Torn}));
}

void Story::make_void(const core::Package& package) {
  trouble_.note(void_labels(ports_, {"JT", {package.id.text()}, "torn while peeling"}));
}

void Story::add_case(const std::string& name, const core::Package& package) {
  cases_.push_back({name, package.id.text(), package.payload, package.load.text()});
}

void Story::add_forged(const core::Package& package) {
  std::string payload = package.payload.substr(0, package.payload.size() - core::kAuthenticatorLength);
  payload += ports_.keyring.mac("not " + payload);
  cases_.push_back({"forged", package.id.text(), payload, package.load.text()});
}

Result<std::vector<DemoCase>> Story::result() const {
  if (!trouble_.none()) return trouble_.failure();
  return cases_;
}

}  // namespace loadlight::app
