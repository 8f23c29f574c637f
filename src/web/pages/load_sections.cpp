// The evidence about a load and its decision, as they are shown; the forms that take more of it.
#include <algorithm>
#include <iterator>

#include "loadlight/core/indicator_types.h"
#include "loadlight/core/transitions.h"
#include "web/load_view.h"
#include "web/mapping_names.h"
#include "web/package_view.h"
#include "web/pages/load_page.h"

namespace loadlight::web {
namespace {

using core::LoadPurpose;
using core::LoadState;
using core::Reason;
using core::Verdict;

// Where the work that a reason asks for is done: in this order, the one thing to do next.
struct Work final {
  std::string_view section;
  Reason reason;
};
constexpr Work kWork[] = {{"readings", Reason::MechanicalEvidenceMissing},
                          {"readings", Reason::MechanicalEvidenceIncomplete},
                          {"readings", Reason::DryingShort},
                          {"indicators", Reason::ExternalIndicatorUnread},
                          {"indicators", Reason::ConsumableExpired},
                          {"biological", Reason::BiologicalAwaited},
                          {"biological", Reason::BiologicalInvalid}};

bool has(const Verdict& verdict, Reason reason) {
  const auto& reasons = verdict.reasons();
  return std::find(reasons.begin(), reasons.end(), reason) != reasons.end();
}

// Everything asked for is there: a person decides.
bool is_whole(const Verdict& verdict) {
  const std::vector<Reason> finished{Reason::LoadNotReleased};
  const std::vector<Reason> quarantined{Reason::LoadQuarantined};
  return verdict.reasons() == finished || verdict.reasons() == quarantined;
}

std::string next_of(const app::LoadView& load) {
  const Verdict& verdict = load.verdict;
  if (!core::awaits_decision(load.load.state)) return "decision";
  if (is_whole(verdict) || verdict.outcome() == core::Outcome::DoNotUse) return "decision";
  if (has(verdict, Reason::DailyTestMissing) && load.load.purpose == LoadPurpose::BowieDick)
    return "indicators";
  if (has(verdict, Reason::DailyTestMissing) && load.load.purpose == LoadPurpose::Leak) return "readings";
  for (const Work& work : kWork) {
    if (has(verdict, work.reason)) return std::string{work.section};
  }
  return "decision";
}

std::string number_or_none(const std::optional<double>& value) {
  return value ? short_number(*value) : std::string{};
}

View lots_of(const app::Ports& ports, core::ConsumableKind kind) {
  View list = View::array();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return list;
  const auto all = (*unit)->consumables().all();
  if (!all) return list;
  for (const core::Consumable& each : *all) {
    if (each.kind != kind || each.retired_on) continue;
    list.push_back({{"lot", each.lot}, {"name", each.name}, {"expires", each.expires.iso()}});
  }
  return list;
}

View types_view(const Visit& visit, const core::Load& load) {
  View list = View::array();
  for (const core::IndicatorType& type : core::all_indicator_types()) {
    const auto stands = [&](core::IndicatorPlace place) {
      return core::may_stand(type.number, place, load.purpose);
    };
    const bool fits = stands(core::IndicatorPlace::External) || stands(core::IndicatorPlace::Internal) ||
                      stands(core::IndicatorPlace::ProcessChallenge);
    if (!fits) continue;
    list.push_back({{"number", type.number},
                    {"words", visit.word("load.indicator-type." + std::to_string(type.number))},
                    {"chosen", list.empty()}});
  }
  return list;
}

View indicator_view(const Visit& visit, const core::IndicatorReading& reading) {
  View view{{"place", visit.word("load.indicator-place." + code_text(reading.place))},
            {"type", visit.word("load.indicator-type." + std::to_string(reading.type))},
            {"lot", reading.lot},
            {"expires", day_text(visit, reading.expires)},
            {"passed", reading.passed},
            {"result", visit.word(reading.passed ? "load.indicator.pass" : "load.indicator.fail")},
            {"package", reading.package ? reading.package->grouped() : ""},
            {"read_by", reading.read_by},
            {"why", reading.why}};
  return view;
}

View run_view(const Visit& visit, const port::Zone& zone, const core::BiologicalRun& run) {
  const bool by_mail = run.reader == core::BiologicalReader::MailIn;
  return {{"number", run.number},
          {"lot", run.lot},
          {"control_lot", run.control_lot},
          {"reader", visit.word("load.biological-reader." + code_text(run.reader))},
          {"service", run.service},
          {"due", time_text(visit, zone, run.due_at)},
          {"incubated", run.incubated_at ? time_text(visit, zone, *run.incubated_at) : ""},
          {"sent", run.sent_on ? day_text(visit, *run.sent_on) : ""},
          {"to_incubate", !by_mail && !run.incubated_at},
          {"to_send", by_mail && !run.sent_on}};
}

View result_view(const Visit& visit, const port::Zone& zone, const core::BiologicalReading& result) {
  return {{"lot", result.lot},
          {"control_lot", result.control_lot},
          {"test", visit.word("load.biological-test." + code_text(result.test))},
          {"grew", result.test == core::BiologicalTest::Growth},
          {"control", visit.word("load.biological-control." + code_text(result.control))},
          {"read", time_text(visit, zone, result.read_at)},
          {"read_by", result.read_by},
          {"report", result.report_file},
          {"why", result.why}};
}

// For whoever cannot see the plot: lowest and highest of the exposure, and its minutes.
std::string plot_words(const Visit& visit, const core::CycleFindings& log) {
  const core::Details whole{{"minutes", short_number((log.end_seconds - log.start_seconds) / 60)}};
  if (!log.exposure) return visit.word("cycle-plot.description-unexposed", whole);
  core::Details details = whole;
  details.emplace_back("exposure", short_number(log.exposure->minutes()));
  details.emplace_back("low", short_number(log.exposure->low_celsius));
  details.emplace_back("high", short_number(log.exposure->high_celsius));
  return visit.word("cycle-plot.description", details);
}

std::string lethality_words(const Visit& visit, const core::CycleFindings& log) {
  return visit.word("line.f0", {{"minutes", short_number(log.f0_minutes)},
                                {"reference", short_number(log.settings.f0.reference_celsius)},
                                {"z", short_number(log.settings.f0.z_kelvin)}});
}

View asked_of(const app::LoadView& load) {
  if (!load.program) return nullptr;
  const core::Program& program = *load.program;
  View asked{{"celsius", short_number(program.celsius)},
             {"minutes", short_number(program.exposure_minutes)},
             {"source", program.source}};
  asked["drying"] = program.drying_minutes > 0 ? View(short_number(program.drying_minutes)) : View(nullptr);
  return asked;
}

void add_typed(const app::LoadView& load, View& view) {
  if (load.load.readings) {
    const core::Readings& r = *load.load.readings;
    view["typed"] = {{"low", short_number(r.low_celsius)},
                     {"high", short_number(r.high_celsius)},
                     {"minutes", short_number(r.minutes)},
                     {"pressure", short_number(r.pressure_kpa)},
                     {"drying", number_or_none(r.drying_minutes)}};
  }
  if (load.load.leak) {
    view["leak"] = {{"rate", short_number(load.load.leak->kpa_per_minute)},
                    {"passed", load.load.leak->passed}};
  }
}

// Nobody is told off before signing in.
bool is_for(const Visit& visit, core::Decider decider) {
  return decider == core::Decider::Anyone || !visit.who || visit.who->role == core::Role::Lead;
}

// Who may stand beside the one who is signed in: where an emergency needs a lead, one of the two leads.
View second_people(const Visit& visit, const app::Ports& ports, core::Decider emergency_by) {
  View list = View::array();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return list;
  const auto all = (*unit)->operators().all();
  if (!all) return list;
  const core::CivilDate today = ports.zone.local_date(ports.clock.now());
  for (const core::Operator& each : *all) {
    if (!each.current_on(today) || each.code == visit.operator_code()) continue;
    if (!is_for(visit, emergency_by) && each.role != core::Role::Lead) continue;
    list.push_back({{"code", each.code}, {"name", each.name}});
  }
  return list;
}

// What the decision's part is headed by: where the load stands, or what a person may do with it now.
std::string heading_of(const Visit& visit, const app::LoadView& load) {
  const bool finished = load.load.state == LoadState::Finished;
  if (core::awaits_decision(load.load.state)) {
    if (is_whole(load.verdict)) return visit.word("page.load.ready");
    if (load.verdict.outcome() == core::Outcome::DoNotUse) return visit.word("page.load.may-not");
    if (finished) return visit.word("page.load.not-yet");
  }
  return visit.word("load.stands." + code_text(load.load.state));
}

}  // namespace

View readings_section(const Visit& visit, const app::LoadView& load) {
  const std::string path = "/loads/" + load.load.name.text();
  View view{{"criteria", criteria_view(visit, load.criteria)},
            {"any_criteria", !load.criteria.empty()},
            {"taken", core::awaits_decision(load.load.state)},
            {"has_any", load.load.readings || load.load.cycle_log || load.load.leak},
            {"is_leak", load.load.purpose == LoadPurpose::Leak},
            {"asked", asked_of(load)},
            {"typing", visit.form_for(path + "/readings")},
            {"leaking", visit.form_for(path + "/leak")},
            {"log_path", path + "/log"},
            {"log_token", visit.desk.seal().token(visit.cookie, path + "/log")},
            {"mappings", mapping_names(visit.desk.world().templates_folder)}};
  add_typed(load, view);
  if (load.log) {
    view["plot"] = {{"path", path + "/plot.svg?log=" + std::to_string(load.load.cycle_log.value_or(0))},
                    {"words", plot_words(visit, *load.log)},
                    {"f0", lethality_words(visit, *load.log)}};
  }
  return view;
}

View indicators_section(const Visit& visit, const app::Ports& ports, const app::LoadView& load) {
  const bool sheet = load.load.purpose == LoadPurpose::BowieDick;
  View list = View::array();
  for (const core::IndicatorReading& each : load.indicators) list.push_back(indicator_view(visit, each));
  View packages = View::array();
  for (const core::Package& package : load.packages) {
    if (package.state != core::PackageState::Loaded) continue;
    packages.push_back({{"id", package.id.text()},
                        {"grouped", package.id.grouped()},
                        {"contents", contents_name(ports, package.contents)}});
  }
  return {{"read", list},
          {"any_read", !list.empty()},
          {"taken", core::awaits_decision(load.load.state)},
          {"is_sheet", sheet},
          {"is_leak", load.load.purpose == LoadPurpose::Leak},
          {"types", types_view(visit, load.load)},
          {"packages", packages},
          {"lots", lots_of(ports, sheet ? core::ConsumableKind::AirRemoval : core::ConsumableKind::Chemical)},
          {"reading", visit.form_for("/loads/" + load.load.name.text() + "/indicator")}};
}

View biological_section(const Visit& visit, const app::Ports& ports, const app::LoadView& load) {
  const std::string path = "/loads/" + load.load.name.text() + "/biological";
  View runs = View::array();
  for (const core::BiologicalRun& run : load.biological_runs)
    runs.push_back(run_view(visit, ports.zone, run));
  View results = View::array();
  for (const auto& each : load.biologicals) results.push_back(result_view(visit, ports.zone, each));
  const bool one = load.biological_runs.size() == 1;
  return {{"runs", runs},
          {"any_runs", !runs.empty()},
          {"results", results},
          {"any_results", !results.empty()},
          {"placeable", core::awaits_decision(load.load.state)},
          {"lots", lots_of(ports, core::ConsumableKind::Biological)},
          {"lot", one ? load.biological_runs.front().lot : ""},
          {"control_lot", one ? load.biological_runs.front().control_lot : ""},
          {"placing", visit.form_for(path + "/place")},
          {"moving", visit.form_for(path + "/move")},
          {"reading", visit.form_for(path)}};
}

View decision_section(const Visit& visit, const app::Ports& ports, const app::LoadView& load) {
  const std::string path = "/loads/" + load.load.name.text();
  const Verdict& verdict = load.verdict;
  const LoadState state = load.load.state;
  const bool awaits = core::awaits_decision(state);
  const bool whole = awaits && is_whole(verdict);
  const bool only_biological = awaits && verdict.reasons() == std::vector{Reason::BiologicalAwaited};
  const bool fails = awaits && verdict.outcome() == core::Outcome::DoNotUse;
  View view = outcome_view(visit, verdict.outcome());
  view["next"] = next_of(load);
  view["heading"] = heading_of(visit, load);
  view["reasons"] = load_reasons(visit, verdict);
  view["notes"] = load_notes(visit, verdict);
  view["awaits"] = awaits;
  view["whole"] = whole;
  view["fails"] = fails;
  view["to_quarantine"] = only_biological && state == LoadState::Finished;
  view["not_yet"] = awaits && !whole && !fails && !only_biological;
  view["releasable"] = whole && is_for(visit, load.release_by);
  view["lead_releases"] = (whole || only_biological) && !is_for(visit, load.release_by);
  view["emergency"] = only_biological && is_for(visit, load.release_by);
  view["lead_in_emergency"] = only_biological && !is_for(visit, load.emergency_by);
  view["profile"] = load.profile;
  view["seconds"] = only_biological ? second_people(visit, ports, load.emergency_by) : View::array();
  view["releasing"] = visit.form_for(path + "/release");
  view["revocable"] = core::after(state, core::LoadMove::Revoke).has_value();
  view["recallable"] = core::after(state, core::LoadMove::Recall).has_value();
  view["revoking"] = visit.form_for(path + "/revoke");
  view["recalling"] = visit.form_for(path + "/recall");
  return view;
}

}  // namespace loadlight::web
