// One load: where it stands, what is to be done next, what is in it, what speaks for it and against.
#include "web/pages/load_page.h"

#include <algorithm>

#include "loadlight/app/load_openings.h"
#include "web/form_values.h"
#include "web/load_view.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::LoadPurpose;
using core::LoadState;
using core::PackageState;

View fact(const Visit& visit, std::string_view name, const std::string& value) {
  return {{"name", visit.word("page.load.fact." + std::string{name})}, {"value", value}};
}

View facts_view(const Visit& visit, const port::Zone& zone, const app::LoadView& view) {
  const core::Load& load = view.load;
  View facts = View::array();
  const auto add = [&](std::string_view name, const std::string& value) {
    if (!value.empty()) facts.push_back(fact(visit, name, value));
  };
  const auto time = [&](const std::optional<core::Instant>& at) {
    return at ? time_text(visit, zone, *at) : "";
  };
  if (load.purpose != LoadPurpose::Process) add("purpose", purpose_word(visit, load.purpose));
  add("program", view.program ? program_words(visit, *view.program) : load.program);
  add("started", time(load.started_at));
  add("finished", time(load.finished_at));
  add("counter", load.machine_counter ? std::to_string(*load.machine_counter) : "");
  add("decided", time(load.decided_at));
  add("decided-by", load.decided_by);
  add("aborted", load.abort_reason);
  add("emergency", load.emergency_reason);
  add("second", load.emergency_second);
  add("retest-of", load.retest_of ? std::to_string(*load.retest_of) : "");
  if (load.implant_aboard) add("implant", visit.word("page.load.implant"));
  return facts;
}

View package_view(const Visit& visit, const app::Ports& ports, const core::Package& package) {
  return {{"id", package.id.text()},
          {"grouped", package.id.grouped()},
          {"contents", contents_name(ports, package.contents)},
          {"state", visit.word("detail.state." + code_text(package.state))},
          {"in_place", package.state == PackageState::Loaded},
          {"link", "/packages/" + package.id.text()}};
}

// A label that names another day keeps its load from starting: another label is offered.
View filling_view(const Visit& visit, const app::Ports& ports, const core::Package& package) {
  View view = package_view(visit, ports, package);
  if (package.process_date == ports.zone.local_date(ports.clock.now())) return view;
  view["other_day"] = day_text(visit, package.process_date);
  view["replace"] = replace_link(package.id, package.load);
  return view;
}

// In it, and those whose labels name it but that nobody has put in.
View packages_view(const Visit& visit, const app::Ports& ports, const app::LoadView& view) {
  const bool is_open = view.load.state == LoadState::Open;
  View aboard = View::array();
  View waiting = View::array();
  std::size_t in_place = 0;
  for (const core::Package& package : view.packages) {
    if (package.state == PackageState::Void) continue;
    in_place += package.state == PackageState::Loaded ? 1u : 0u;
    View line = is_open ? filling_view(visit, ports, package) : package_view(visit, ports, package);
    (package.state == PackageState::Labelled ? waiting : aboard).push_back(std::move(line));
  }
  View loose = View::array();
  for (const core::LooseItems& line : view.load.loose_items) {
    loose.push_back({{"contents", contents_name(ports, line.contents)}, {"count", line.count}});
  }
  // What was withdrawn before the start is not in the chamber.
  const std::string count = std::to_string(is_open ? in_place : aboard.size());
  return {{"aboard", aboard},
          {"any_aboard", !aboard.empty()},
          {"count", count},
          {"count_words", visit.word("page.load.count", {{"count", count}, {"load", view.load.name.text()}})},
          {"waiting", is_open ? waiting : View::array()},
          {"any_waiting", is_open && !waiting.empty()},
          {"loose", loose},
          {"any_loose", !loose.empty()},
          {"is_empty", in_place == 0 && loose.empty()},
          {"any", !aboard.empty() || !loose.empty() || !waiting.empty()},
          {"removable", is_open}};
}

View contents_choices(const app::Ports& ports) {
  View list = View::array();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return list;
  const auto all = (*unit)->contents().all();
  if (!all) return list;
  for (const core::Contents& each : *all) {
    if (!each.retired_on) list.push_back({{"code", each.code}, {"name", each.name}});
  }
  return list;
}

// Whether the day's test speaks against starting now.
std::string daily_warning(const Visit& visit, const app::Ports& ports, const core::Load& load) {
  if (load.purpose != LoadPurpose::Process || load.state != LoadState::Open) return {};
  const auto openings = app::load_openings(ports, load.name.sterilizer);
  if (!openings) return {};
  const core::Details details{{"sterilizer", load.name.sterilizer}};
  if (openings->daily_test == core::DailyTest::Missing) return visit.word("load.daily-test-missing", details);
  if (openings->daily_test == core::DailyTest::Failed)
    return visit.word("failure.sterilizer-test-failed.text", details);
  return {};
}

View reserved_section(const Visit& visit, const app::Ports& ports, const core::LoadName& name) {
  View programs = View::array();
  if (const auto openings = app::load_openings(ports, name.sterilizer)) {
    for (const app::ProgramChoice& choice : openings->programs) {
      programs.push_back({{"code", choice.program.code},
                          {"words", program_words(visit, choice.program, choice.name)},
                          {"source", choice.program.source}});
    }
  }
  return {{"form", visit.form_for("/loads/open")},
          {"sterilizer", name.sterilizer},
          {"number", name.number},
          {"programs", programs}};
}

View open_section(const Visit& visit, const app::Ports& ports, const app::LoadView& view) {
  const std::string path = "/loads/" + view.load.name.text();
  const bool holds_packages = view.load.purpose == LoadPurpose::Process;
  return {{"takes_packages", holds_packages},
          {"frame_path", path + "/frame"},
          {"frame_token", visit.desk.seal().token(visit.cookie, path + "/frame")},
          {"adding", visit.form_for(path + "/add")},
          {"loosing", visit.form_for(path + "/loose")},
          {"starting", visit.form_for(path + "/start")},
          {"contents_choices", holds_packages ? contents_choices(ports) : View::array()},
          {"daily_warning", daily_warning(visit, ports, view.load)}};
}

View running_section(const Visit& visit, const core::LoadName& name) {
  const std::string path = "/loads/" + name.text() + "/finish";
  return {{"finishing", visit.form_for(path)}, {"aborting", visit.form_for(path)}};
}

void add_evidence(const Visit& visit, const app::Ports& ports, const app::LoadView& load, View& view) {
  if (!core::has_ended(load.load.state)) return;
  const bool ran = load.load.state != LoadState::Aborted;
  View decision = decision_section(visit, ports, load);
  const std::string next = decision.value("next", "");
  if (ran) {
    view["readings"] = readings_section(visit, load);
    view["indicators"] = indicators_section(visit, ports, load);
    view["biological"] = biological_section(visit, ports, load);
    view["is_leak"] = load.load.purpose == LoadPurpose::Leak;
  }
  for (const char* name : {"readings", "indicators", "biological", "decision"}) {
    view[std::string{name} + "_next"] = next == name;
  }
  view["decision"] = std::move(decision);
}

Response shown(const Visit& visit, const app::OpenOffice& office, const app::LoadView& load) {
  const app::Ports& ports = office.ports;
  const LoadState state = load.load.state;
  const std::string name = load.load.name.text();
  View view{{"title", visit.word("page.load.title", {{"load", name}})},
            {"at", "/loads"},
            {"load", name},
            {"state_code", code_text(state)},
            {"steps", load_steps(visit, state)},
            {"facts", facts_view(visit, *office.zone, load)},
            {"has_record", load.load.started_at.has_value()},
            {"packages", packages_view(visit, ports, load)},
            {"removing", visit.form_for("/loads/" + name + "/remove")}};
  view["packages"]["removing"] = view["removing"];
  if (state == LoadState::Reserved) view["reserved"] = reserved_section(visit, ports, load.load.name);
  if (state == LoadState::Open) view["open"] = open_section(visit, ports, load);
  if (state == LoadState::Running) view["running"] = running_section(visit, load.load.name);
  add_evidence(visit, ports, load, view);
  return visit.page("pages/load", std::move(view));
}

}  // namespace

std::string contents_name(const app::Ports& ports, const std::string& code) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return code;
  const auto row = (*unit)->contents().find(code);
  return row && *row ? (**row).name : code;
}

std::string replace_link(const core::PackageId& package, const core::LoadName& load) {
  return "/pack/packages/" + package.text() + "/replace?load=" + load.text();
}

Response load_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto name = load_of(visit);
  if (!name) return visit.failed(name.failure());
  const auto load = app::show_load((*office)->ports, *name);
  return load ? shown(visit, **office, *load) : visit.failed(load.failure());
}

}  // namespace loadlight::web
