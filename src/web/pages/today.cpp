#include "loadlight/app/accept_clock.h"
#include "loadlight/app/list_due.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::DueItem;
using core::LoadState;
using core::Result;

// Where the work that a line asks for is done.
std::string work_of(const DueItem& item) {
  const std::string subject = item.subject.substr(0, item.subject.find(' '));
  switch (item.kind) {
    case core::DueKind::IncidentStep:
      return "/recall/" + subject;
    case core::DueKind::BiologicalResult:
    case core::DueKind::LoadToDecide:
    case core::DueKind::Quarantine:
    case core::DueKind::EmergencyReleaseResult:
      return "/loads/" + subject;
    case core::DueKind::RetestAfterService:
    case core::DueKind::AirRemovalTest:
    case core::DueKind::LeakTest:
    case core::DueKind::BiologicalRun:
      return "/loads";
    case core::DueKind::ProgramAcceptance:
    case core::DueKind::Service:
    case core::DueKind::ConsumableExpiry:
      return "/set-up";
    case core::DueKind::PackageExpiry:
      return "/records?search=" + url_escaped(subject);
  }
  return "/";
}

Result<View> due_of(const Visit& visit, const app::Ports& ports) {
  const auto items = app::list_due(ports);
  if (!items) return items.failure();
  View list = View::array();
  for (const DueItem& item : *items) {
    list.push_back({{"text", visit.word("due." + code_text(item.kind))},
                    {"subject", item.subject},
                    {"when", day_text(visit, item.when)},
                    {"overdue", item.overdue},
                    {"link", work_of(item)}});
  }
  return list;
}

// Loads that are not decided yet, where each stands.
Result<View> loads_of(const Visit& visit, const port::Unit& unit, const port::Zone& zone) {
  View list = View::array();
  for (const LoadState state : {LoadState::Running, LoadState::Finished, LoadState::Quarantined, LoadState::Open}) {
    const auto loads = unit.loads().in_state(state);
    if (!loads) return loads.failure();
    for (const core::Load& load : *loads) {
      list.push_back({{"name", load.name.text()},
                      {"state", visit.word("detail.state." + code_text(state))},
                      {"state_code", code_text(state)},
                      {"started", load.started_at ? time_text(visit, zone, *load.started_at) : ""},
                      {"link", "/loads/" + load.name.text()}});
    }
  }
  return list;
}

Result<View> incidents_of(const Visit& visit, const port::Unit& unit) {
  const auto open = unit.incidents().open_ones();
  if (!open) return open.failure();
  View list = View::array();
  for (const core::Incident& incident : *open) {
    const std::string number = std::to_string(incident.number);
    list.push_back({{"number", number},
                    {"text", visit.word("today.incident", {{"incident", number}})},
                    {"link", "/recall/" + number}});
  }
  return list;
}

}  // namespace

Response today(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto due = due_of(visit, ports);
  if (!due) return visit.failed(due.failure());
  const auto clock = app::show_clock(ports);
  if (!clock) return visit.failed(clock.failure());
  const auto loads = loads_of(visit, **unit, ports.zone);
  if (!loads) return visit.failed(loads.failure());
  const auto incidents = incidents_of(visit, **unit);
  if (!incidents) return visit.failed(incidents.failure());
  View view{{"title", visit.word("page.today.title")},
            {"at", "/"},
            {"day", day_text(visit, ports.zone.local_date(ports.clock.now()))},
            {"clock_behind", clock->behind},
            {"due", *due},
            {"nothing_due", due->empty()},
            {"loads", *loads},
            {"any_loads", !loads->empty()},
            {"incidents", *incidents},
            {"any_incidents", !incidents->empty()}};
  if (visit.asked("piece") == "1") return visit.piece("parts/today", view);
  return visit.page("pages/today", std::move(view));
}

}  // namespace loadlight::web
