#include <algorithm>

#include "loadlight/app/queued_acts.h"

#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/pages/recall_view.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Incident;
using core::Result;

constexpr int kIncidentsOnPage = 40;
constexpr int kCountedAtOnce = 400;  // suspects whose earlier Clears are looked up with the page itself
constexpr int kClearsShown = 5;
constexpr int kClearsOnPage = 100;
constexpr std::size_t kOpeningsShown = 200;

const Failure kUnknown{FailureCode::IncidentUnknown, {}, {}};

// Open ones first, then the newest.
void sort_for_work(std::vector<Incident>& incidents) {
  std::stable_sort(incidents.begin(), incidents.end(), [](const Incident& one, const Incident& other) {
    if (one.state != other.state) return one.state == core::IncidentState::Open;
    return one.number > other.number;
  });
}

View loads_view(const Visit& visit, const app::IncidentStanding& standing) {
  View list = View::array();
  for (const core::Load& load : standing.loads) {
    list.push_back({{"name", load.name.text()},
                    {"link", "/loads/" + load.name.text()},
                    {"state", visit.word("detail.state." + code_text(load.state))},
                    {"day", load.process_date ? day_text(visit, *load.process_date) : ""},
                    {"raised", load.name == standing.incident.load()},
                    {"may_be_called_back", load.state == core::LoadState::Released}});
  }
  return list;
}

std::string place_query(const Visit& visit) {
  std::string query;
  const auto place = visit.request.head.query.find("place");
  if (place) query += "&place=" + url_escaped(*place);
  if (visit.asked("show") == "all") query += "&show=all";
  return query;
}

// Those of whom nobody knows yet come first: all of them are shown on asking, of one place, or when the incident
// is closed.
bool shows_unaccounted_only(const Visit& visit, const Incident& incident) {
  return incident.state == core::IncidentState::Open && visit.asked("show") != "all" &&
         !visit.request.head.query.find("place");
}

std::string with_query(const std::string& path, const std::string& query) {
  return query.empty() ? path : path + "?" + query.substr(1);
}

View place_view(const Visit& visit, const std::string& path, const app::SuspectPlace& place) {
  const auto asked = visit.request.head.query.find("place");
  return {{"name", place.location.empty() ? visit.word("notice.no-place") : place.location},
          {"link", path + "?place=" + url_escaped(place.location) + "#suspects"},
          {"packages", place.packages},
          {"unaccounted", place.unaccounted},
          {"current", asked && *asked == place.location}};
}

Result<void> add_suspects(const Visit& visit, const app::Ports& ports, const app::IncidentStanding& standing,
                          View& view) {
  const std::string path = recall_path(standing.incident.number);
  const std::string query = place_query(visit);
  app::SuspectQuery wish;
  wish.incident = standing.incident.number;
  if (const auto place = visit.request.head.query.find("place")) wish.location = std::string{*place};
  wish.unaccounted_only = shows_unaccounted_only(visit, standing.incident);
  wish.page = {asked_number(visit, "from"), kSuspectsOnPage};
  const auto page = app::suspects_of(ports, wish);
  if (!page) return page.failure();
  std::string back = query;
  if (wish.page.first > 0) back += "&from=" + std::to_string(wish.page.first);
  View list = View::array();
  for (const app::Suspect& suspect : page->suspects) {
    list.push_back(suspect_view(visit, standing.incident, suspect, back));
  }
  View suspects{{"list", list}, {"none", list.empty()}};
  add_paging(suspects, with_query(path, query), wish.page, page->total);
  view["suspects"] = suspects;
  view["places"] = View::array();
  for (const app::SuspectPlace& place : standing.places) view["places"].push_back(place_view(visit, path, place));
  view["unaccounted"] = {{"link", path + "#suspects"},
                         {"current", wish.unaccounted_only},
                         {"packages", standing.unaccounted}};
  view["everywhere"] = {{"link", path + "?show=all#suspects"},
                        {"current", !wish.unaccounted_only && !wish.location},
                        {"packages", standing.suspects}};
  return {};
}

// The one package that was scanned or searched for.
void add_found(const Visit& visit, const app::Ports& ports, const Incident& incident, View& view) {
  if (visit.asked("package").empty()) return;
  const auto suspect = app::find_suspect(ports, incident.number, std::string{visit.asked("package").substr(0, 100)});
  if (suspect) {
    view["found"] = suspect_view(visit, incident, *suspect, "");
  } else {
    view["not_found"] = visit.failure_view(suspect.failure());
  }
}

View clear_view(const Visit& visit, const port::Zone& zone, const app::EarlierClear& clear) {
  return {{"package_grouped", clear.package.grouped()},
          {"link", "/packages/" + clear.package.text()},
          {"at", time_text(visit, zone, clear.at)},
          {"who", clear.operator_code}};
}

Result<void> add_clears(const Visit& visit, const app::Ports& ports, const app::IncidentStanding& standing,
                        View& view) {
  view["clears_link"] = recall_path(standing.incident.number) + "/clears";
  if (standing.suspects > kCountedAtOnce) return {};
  const auto page = app::earlier_clears_of(ports, standing.incident.number, {0, kClearsShown});
  if (!page) return page.failure();
  View list = View::array();
  for (const app::EarlierClear& clear : page->clears) list.push_back(clear_view(visit, ports.zone, clear));
  if (page->total == 0) view["clears_link"] = "";
  view["clears"] = list;
  view["any_clears"] = page->total > 0;
  view["clears_total"] = page->total;
  return {};
}

void add_decisions(const Visit& visit, const app::IncidentStanding& standing, View& view) {
  const Incident& incident = standing.incident;
  if (incident.state == core::IncidentState::Closed) return;
  const std::string path = recall_path(incident.number);
  view["scan"] = visit.form_for(path + "/account");
  view["narrow"] = visit.form_for(path + "/narrow");
  view["call_back"] = visit.form_for(path + "/call-back");
  view["close"] = visit.form_for(path + "/close");
  const bool has_step = std::any_of(standing.steps.begin(), standing.steps.end(),
                                    [](const auto& step) { return step.code == "recall-everything"; });
  const bool all_called = incident.recall == core::RecallReach::Everything;
  if (has_step && !all_called) view["call_all_back"] = visit.form_for(path + "/step");
}

// What was opened while the record could not be reached, the newest first; for whom, to whoever is signed in.
Result<View> contradicted_view(const Visit& visit, const app::Ports& ports) {
  auto openings = app::contradicted_openings(ports);
  if (!openings) return openings.failure();
  View list = View::array();
  for (auto each = openings->rbegin(); each != openings->rend() && list.size() < kOpeningsShown; ++each) {
    const auto id = core::PackageId::parse_exact(each->package);
    View reasons = View::array();
    for (const core::Reason reason : each->reasons) reasons.push_back(visit.word("reason." + code_text(reason) + ".text"));
    list.push_back({{"package_grouped", id ? id->grouped() : each->package},
                    {"link", "/packages/" + each->package},
                    {"at", time_text(visit, ports.zone, each->at)},
                    {"who", each->operator_code},
                    {"visit", visit.who ? each->visit : ""},
                    {"reasons", reasons}});
  }
  return list;
}

}  // namespace

Response recall_list(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  auto incidents = app::list_incidents((*office)->ports);
  if (!incidents) return visit.failed(incidents.failure());
  sort_for_work(*incidents);
  const app::PageWish page{asked_number(visit, "from"), kIncidentsOnPage};
  View list = View::array();
  const int total = static_cast<int>(incidents->size());
  for (int i = page.first; i < total && i < page.first + page.most; ++i) {
    list.push_back(incident_view(visit, *(*office)->zone, (*incidents)[static_cast<std::size_t>(i)]));
  }
  View view{{"title", visit.word("page.recall.title")}, {"at", "/recall"}, {"incidents", list}, {"none", list.empty()}};
  add_paging(view, "/recall", page, total);
  const auto openings = contradicted_view(visit, (*office)->ports);
  if (!openings) return visit.failed(openings.failure());
  view["openings"] = *openings;
  view["any_openings"] = !openings->empty();
  return visit.page("pages/recall", std::move(view));
}

Response incident_page(Visit& visit) {
  const auto number = incident_of(visit);
  if (!number) return visit.failed(kUnknown);
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto standing = app::incident_standing(ports, *number);
  if (!standing) return visit.failed(standing.failure());
  View view = incident_view(visit, *(*office)->zone, standing->incident);
  view["title"] = visit.word("page.recall.incident", {{"incident", std::to_string(*number)}});
  view["at"] = "/recall";
  view["signed_in"] = visit.who.has_value();
  view["steps"] = steps_view(visit, *standing);
  view["to_close"] = obstacles_view(visit, standing->to_close);
  view["to_return"] = obstacles_view(visit, standing->to_return);
  view["may_close"] = standing->to_close.empty();
  view["loads"] = loads_view(visit, *standing);
  if (const auto added = add_suspects(visit, ports, *standing, view); !added) return visit.failed(added.failure());
  if (const auto added = add_clears(visit, ports, *standing, view); !added) return visit.failed(added.failure());
  add_found(visit, ports, standing->incident, view);
  add_decisions(visit, *standing, view);
  return visit.page("pages/incident", std::move(view));
}

Response earlier_clears_page(Visit& visit) {
  const auto number = incident_of(visit);
  if (!number) return visit.failed(kUnknown);
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::PageWish wish{asked_number(visit, "from"), kClearsOnPage};
  const auto page = app::earlier_clears_of((*office)->ports, *number, wish);
  if (!page) return visit.failed(page.failure());
  View list = View::array();
  for (const app::EarlierClear& clear : page->clears) list.push_back(clear_view(visit, *(*office)->zone, clear));
  const std::string path = recall_path(*number);
  View view{{"title", visit.word("page.recall.clears-title", {{"incident", std::to_string(*number)}})},
            {"at", "/recall"},
            {"incident_link", path},
            {"clears", list},
            {"none", list.empty()}};
  add_paging(view, path + "/clears", wish, page->total);
  return visit.page("pages/earlier-clears", std::move(view));
}

}  // namespace loadlight::web
