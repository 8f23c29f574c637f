// Every sterilizer with its loads, and the way into a new one.
#include <algorithm>

#include "loadlight/app/load_life.h"
#include "loadlight/app/load_openings.h"
#include "loadlight/app/service_sterilizer.h"
#include "web/form_values.h"
#include "web/load_view.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::LoadState;
using core::Result;
using core::Sterilizer;

constexpr int kNewestLookedAt = 60;
constexpr std::size_t kDecidedShown = 6;
constexpr LoadState kUndecided[] = {LoadState::Running, LoadState::Finished, LoadState::Quarantined,
                                    LoadState::Open, LoadState::Reserved};

Result<View> undecided_of(const Visit& visit, const app::Ports& ports, const port::Unit& unit,
                          const Sterilizer& sterilizer) {
  View list = View::array();
  for (const LoadState state : kUndecided) {
    const auto loads = unit.loads().in_state(state);
    if (!loads) return loads.failure();
    for (const core::Load& load : *loads) {
      if (load.name.sterilizer == sterilizer.code) list.push_back(load_line(visit, ports.zone, load));
    }
  }
  return list;
}

Result<View> decided_of(const Visit& visit, const app::Ports& ports, const port::Unit& unit,
                        const Sterilizer& sterilizer) {
  const auto loads = unit.loads().newest_of(sterilizer.code, kNewestLookedAt);
  if (!loads) return loads.failure();
  View list = View::array();
  for (const core::Load& load : *loads) {
    const bool decided = core::has_ended(load.state) && !core::awaits_decision(load.state);
    if (decided && list.size() < kDecidedShown) list.push_back(load_line(visit, ports.zone, load));
  }
  return list;
}

// Why it is out of service, as it was last said.
Result<std::string> why_out(const app::Ports& ports, const Sterilizer& sterilizer) {
  const auto entries = app::service_log(ports, sterilizer.code);
  if (!entries) return entries.failure();
  std::string why;
  for (const core::ServiceEntry& entry : *entries) {
    if (entry.kind == core::ServiceKind::OutOfService) why = entry.note;
  }
  return why;
}

View incidents_that_hold(const std::vector<core::Incident>& open, const Sterilizer& sterilizer) {
  View list = View::array();
  for (const core::Incident& incident : open) {
    if (incident.sterilizer == sterilizer.code) list.push_back({{"number", std::to_string(incident.number)}});
  }
  return list;
}

View programs_view(const Visit& visit, const std::vector<app::ProgramChoice>& programs) {
  View list = View::array();
  for (const app::ProgramChoice& choice : programs) {
    list.push_back({{"code", choice.program.code},
                    {"words", program_words(visit, choice.program, choice.name)},
                    {"source", choice.program.source}});
  }
  return list;
}

std::string daily_word(const Visit& visit, core::DailyTest test) {
  switch (test) {
    case core::DailyTest::NotAsked:
      return {};
    case core::DailyTest::Passed:
      return visit.word("page.loads.daily-passed");
    case core::DailyTest::Missing:
      return visit.word("page.loads.daily-missing");
    case core::DailyTest::Failed:
      return visit.word("page.loads.daily-failed");
  }
  return {};
}

Result<View> sterilizer_view(const Visit& visit, const app::Ports& ports, const port::Unit& unit,
                             const Sterilizer& sterilizer, const std::vector<core::Incident>& incidents) {
  const auto undecided = undecided_of(visit, ports, unit, sterilizer);
  if (!undecided) return undecided.failure();
  const auto decided = decided_of(visit, ports, unit, sterilizer);
  if (!decided) return decided.failure();
  const auto why = why_out(ports, sterilizer);
  if (!why) return why.failure();
  const auto openings = app::load_openings(ports, sterilizer.code);
  if (!openings) return openings.failure();
  const bool warns =
      openings->daily_test == core::DailyTest::Missing || openings->daily_test == core::DailyTest::Failed;
  return View{{"code", sterilizer.code},
              {"name", sterilizer.name},
              {"in_service", sterilizer.in_service},
              {"why", sterilizer.in_service ? "" : *why},
              {"held_by", incidents_that_hold(incidents, sterilizer)},
              {"daily", daily_word(visit, openings->daily_test)},
              {"daily_warns", warns},
              {"loads", *undecided},
              {"nothing_open", undecided->empty()},
              {"decided", *decided},
              {"any_decided", !decided->empty()},
              {"next", openings->next.text()},
              {"open_words", visit.word("page.loads.open", {{"load", openings->next.text()}})},
              {"programs", programs_view(visit, openings->programs)}};
}

Result<View> sterilizers_view(const Visit& visit, const app::Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto all = (*unit)->sterilizers().all();
  if (!all) return all.failure();
  const auto incidents = (*unit)->incidents().open_ones();
  if (!incidents) return incidents.failure();
  View list = View::array();
  for (const Sterilizer& sterilizer : *all) {
    if (sterilizer.retired_on) continue;
    const auto view = sterilizer_view(visit, ports, **unit, sterilizer, *incidents);
    if (!view) return view.failure();
    list.push_back(*view);
  }
  return list;
}

}  // namespace

Response loads_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto sterilizers = sterilizers_view(visit, (*office)->ports);
  if (!sterilizers) return visit.failed(sterilizers.failure());
  return visit.page("pages/loads", {{"title", visit.word("page.loads.title")},
                                    {"at", "/loads"},
                                    {"sterilizers", *sterilizers},
                                    {"no_sterilizers", sterilizers->empty()},
                                    {"opening", visit.form_for("/loads/open")}});
}

Response open_load_here(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto purpose = term_of<core::LoadPurpose>(visit, "purpose");
  if (!purpose) return visit.failed(purpose.failure());
  const auto number = whole_if_any(visit, "number");
  if (!number) return visit.failed(number.failure());
  const auto incident = whole_if_any(visit, "incident");
  if (!incident) return visit.failed(incident.failure());
  const auto load =
      app::open_load((*office)->ports, {visit.operator_code(), text_of(visit, "sterilizer"),
                                        text_of(visit, "program"), *purpose, *number, *incident});
  if (!load) return visit.failed(load.failure());
  return visit.go_to("/loads/" + load->name.text(), "load-opened", {{"load", load->name.text()}});
}

}  // namespace loadlight::web
