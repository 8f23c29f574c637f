#include "loadlight/app/package_history.h"
#include "loadlight/app/package_reference.h"
#include "web/history_view.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::PackageState;

constexpr std::size_t kShownAtFirst = 60;
constexpr std::size_t kMostShown = 5000;

// The package as it is judged now, without a check being written: for whoever only looks.
View card_view(const Visit& visit, const app::Ports& ports, const port::Unit& unit, const core::PackageId& id) {
  const auto reply = app::judge_item(ports, unit, {app::CheckItem::How::TypedId, id.text(), std::nullopt});
  View card = own_page_view(visit, reply);
  card["at"] = "";  // that is when it was checked
  const bool clear = reply.verdict.outcome() == core::Outcome::Clear;
  card["open_link"] = clear ? "/packages/" + id.text() + "/open" : "";
  card["more_link"] = "";
  return card;
}

std::string symbol_text(const core::SymbolForm& form) {
  return std::to_string(form.version) + "-" + code_text(form.level) + "/" + std::to_string(form.mask);
}

View label_view(const Visit& visit, const app::Ports& ports, const People& people,
                const app::PackageHistory& history) {
  const core::Package& package = history.package;
  View view{{"kind", history.kind_name + " (" + package.kind + ")"},
            {"contents_code", package.contents},
            {"packed_by", person_text(people, package.operator_code)},
            {"printed", time_text(visit, ports.zone, package.printed_at)},
            {"payload", package.payload},
            {"symbol", symbol_text(package.symbol)},
            {"chart_payload", package.chart_payload},
            {"cell", std::to_string(package.cell)},
            {"print_run", std::to_string(package.print_run)}};
  if (history.run) {
    view["template"] = history.run->template_name;
    view["stock"] = history.run->stock;
  }
  return view;
}

View link_view(const core::PackageId& id) {
  return {{"package", id.grouped()}, {"link", "/packages/" + id.text()}};
}

// Where it stands beside its verdict: what was said of it when it was opened, whom it replaced.
View standing_view(const Visit& visit, const app::Ports& ports, const app::PackageHistory& history) {
  const core::Package& package = history.package;
  View replaces = View::array();
  for (const core::PackageId& old : history.replaces) replaces.push_back(link_view(old));
  View incidents = View::array();
  for (const core::Incident& incident : history.incidents) {
    const std::string number = std::to_string(incident.number);
    incidents.push_back({{"number", number}, {"link", "/recall/" + number}});
  }
  View view{{"state", visit.word("detail.state." + code_text(package.state))},
            {"load_link", "/loads/" + package.load.text()},
            {"load", package.load.text()},
            {"load_state", history.load ? visit.word("detail.state." + code_text(history.load->state)) : ""},
            {"location", history.location_name},
            {"visit", visit.who ? package.visit.value_or("") : ""},  // for whoever is signed in
            {"opened", package.opened_at ? time_text(visit, ports.zone, *package.opened_at) : ""},
            {"replaces", replaces},
            {"incidents", incidents}};
  if (package.internal_indicator) {
    view["internal"] = visit.word("detail.look." + code_text(*package.internal_indicator));
  }
  if (package.replaced_by) view["replaced_by"] = link_view(*package.replaced_by);
  return view;
}

View actions_view(const core::Package& package, bool clear) {
  const std::string path = "/packages/" + package.id.text();
  const bool on_shelf = package.state == PackageState::Labelled || package.state == PackageState::Loaded;
  const bool unread = package.state == PackageState::Opened && !package.internal_indicator;
  return {{"withdraw_link", on_shelf ? path + "/withdraw" : ""},
          {"opened_link", unread ? path + "/opened" : ""},
          {"late_link", package.state == PackageState::Loaded && !clear ? path + "/open" : ""},
          {"shelve_link", package.state == PackageState::Loaded ? "/shelve" : ""},
          {"reprint_link", package.state == PackageState::Void ? "" : "/pack/runs/" + std::to_string(package.print_run)}};
}

core::Result<View> package_view(const Visit& visit, const app::Ports& ports, const port::Unit& unit,
                                const app::PackageHistory& history) {
  const auto people = people_of(unit);
  if (!people) return people.failure();
  const std::size_t limit = visit.asked("all") == "1" ? kMostShown : kShownAtFirst;
  View view = View::object();
  view["label"] = label_view(visit, ports, *people, history);
  view["standing"] = standing_view(visit, ports, history);
  view["history"] = history_view(visit, ports.zone, *people, history, limit);
  if (history.events.size() > limit && limit == kShownAtFirst) {
    view["all_link"] = "/packages/" + history.package.id.text() + "?all=1";
    view["all_count"] = visit.word("page.package.all", {{"count", std::to_string(history.events.size())}});
  }
  return view;
}

}  // namespace

Response package_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto id = app::package_id_of(ports, visit.parameter("id"));
  if (!id) return visit.failed(id.failure());
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto history = app::package_history(**unit, *id);
  if (!history) return visit.failed(history.failure());
  View view = View::object();
  if (*history) {
    auto known = package_view(visit, ports, **unit, **history);
    if (!known) return visit.failed(known.failure());
    view = std::move(*known);
    view["known"] = true;
  }
  view["title"] = visit.word("page.package.title", {{"package", id->grouped()}});
  view["at"] = "/records";
  view["card"] = card_view(visit, ports, **unit, *id);
  if (*history) view.update(actions_view((*history)->package, view["card"]["clear"]));
  view["looking"] = visit.word("page.package.looking", {{"time", time_text(visit, ports.zone, ports.clock.now())}});
  view["check"] = visit.form_for("/packages/" + id->text() + "/check");
  return visit.page("pages/package", std::move(view), *history ? 200 : 404);
}

Response check_package(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto id = app::package_id_of(ports, visit.parameter("id"));
  if (!id) return visit.failed(id.failure());
  const auto replies = app::check_packages(
      ports, {{{app::CheckItem::How::TypedId, id->text(), std::nullopt}}, visit.operator_code(), {}});
  const core::Outcome outcome = replies.front().verdict.outcome();
  return visit.go_to("/packages/" + id->text(), "checked",
                     {{"outcome", visit.word("outcome." + code_text(outcome))}});
}

}  // namespace loadlight::web
