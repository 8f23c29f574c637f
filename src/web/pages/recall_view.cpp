#include "web/pages/recall_view.h"

#include <algorithm>
#include <charconv>

#include "web/package_view.h"

namespace loadlight::web {
namespace {

using core::StepKind;
using core::StepState;

int number_in(std::string_view text) {
  int number = 0;
  const auto end = std::from_chars(text.data(), text.data() + text.size(), number);
  return end.ec == std::errc{} && end.ptr == text.data() + text.size() ? number : -1;
}

View findings_view(const Visit& visit, std::string_view step) {
  View list = View::array();
  for (const core::StepFinding& finding : core::findings_of(step)) {
    const std::string code{finding.code};
    list.push_back({{"code", code}, {"text", visit.word("incident.finding." + code)}});
  }
  return list;
}

// A recall may always be recorded; evidence alone decides a retest.
bool may_be_recorded(const core::Incident& incident, const core::StepStatus& step) {
  if (incident.state == core::IncidentState::Closed || step.kind == StepKind::Retest) return false;
  return step.state == StepState::Due || (step.kind == StepKind::Recall && step.state == StepState::Waits);
}

// Empty where it says no more than that the step is done.
std::string finding_text(const Visit& visit, const core::StepStatus& step) {
  if (step.finding.empty() || step.finding == "done") return "";
  return visit.word("incident.finding." + step.finding);
}

View step_view(const Visit& visit, const core::Incident& incident, const core::StepStatus& step) {
  const std::string code{step.code};
  View view{{"code", code},
            {"text", visit.word("incident.step." + code)},
            {"state", code_text(step.state)},
            {"state_word", visit.word("step-state." + code_text(step.state))},
            {"finding", finding_text(visit, step)},
            {"missing", step.missing > 0 ? visit.word("page.recall.missing", {{"count", std::to_string(step.missing)}}) : ""},
            {"retest", step.kind == StepKind::Retest && step.state == StepState::Due},
            {"decision", step.kind == StepKind::Decision},
            {"source", std::string{step.source}},
            {"form", false}};
  if (!may_be_recorded(incident, step)) return view;
  view["form"] = visit.form_for(recall_path(incident.number) + "/step");
  view["findings"] = findings_view(visit, step.code);
  return view;
}

std::string disposition_code(const app::Suspect& suspect) {
  return suspect.disposition ? code_text(*suspect.disposition) : "on-shelf";
}

}  // namespace

std::optional<int> incident_of(const Visit& visit) {
  const int number = number_in(visit.parameter("incident"));
  return number > 0 ? std::optional{number} : std::nullopt;
}

std::string recall_path(int incident) {
  return "/recall/" + std::to_string(incident);
}

int asked_number(const Visit& visit, std::string_view name) {
  return std::max(0, number_in(visit.asked(name)));
}

View incident_view(const Visit& visit, const port::Zone& zone, const core::Incident& incident) {
  return {{"number", incident.number},
          {"link", recall_path(incident.number)},
          {"cause", visit.word("incident.cause." + code_text(incident.cause))},
          {"load", incident.load().text()},
          {"load_link", "/loads/" + incident.load().text()},
          {"sterilizer", incident.sterilizer},
          {"open", incident.state == core::IncidentState::Open},
          {"state", visit.word("page.recall.state." + code_text(incident.state))},
          {"recall", visit.word("incident.recall." + code_text(incident.recall))},
          {"procedure", visit.word("notice.procedure." + code_text(incident.procedure))},
          {"opened", time_text(visit, zone, incident.opened_at)},
          {"opened_by", incident.opened_by},
          {"closed", incident.closed_at ? time_text(visit, zone, *incident.closed_at) : ""},
          {"closed_by", incident.closed_by},
          {"narrowed", incident.narrowed_why},
          {"held", incident.sterilizer_held},
          {"note", incident.note}};
}

View steps_view(const Visit& visit, const app::IncidentStanding& standing) {
  View list = View::array();
  for (const core::StepStatus& step : standing.steps) {
    if (step.state != StepState::NotNeeded) list.push_back(step_view(visit, standing.incident, step));
  }
  return list;
}

View obstacles_view(const Visit& visit, const std::vector<core::Obstacle>& obstacles) {
  View list = View::array();
  for (const core::Obstacle& obstacle : obstacles) {
    const std::string step = obstacle.step.empty() ? "" : visit.word("incident.step." + std::string{obstacle.step});
    list.push_back(visit.word("incident.obstacle." + code_text(obstacle.kind),
                              {{"step", step}, {"count", std::to_string(obstacle.count)}}));
  }
  return list;
}

View suspect_view(const Visit& visit, const core::Incident& incident, const app::Suspect& suspect,
                  const std::string& back) {
  const core::Package& package = suspect.package;
  const std::string code = disposition_code(suspect);
  View view{{"package", package.id.text()},
            {"package_grouped", package.id.grouped()},
            {"link", "/packages/" + package.id.text()},
            {"contents", suspect.contents_name.empty() ? package.contents : suspect.contents_name},
            {"load", package.load.text()},
            {"location", package.location.value_or("")},
            {"visit", visit.who ? package.visit.value_or("") : ""},
            {"disposition", code},
            {"disposition_word", visit.word("disposition." + code)},
            {"accounted", suspect.disposition.has_value()},
            {"called_back", suspect.called_back},
            {"why", suspect.why},
            {"back", back},
            {"account", false}};
  if (incident.state == core::IncidentState::Open) {
    view["account"] = visit.form_for(recall_path(incident.number) + "/account");
  }
  return view;
}

void add_paging(View& view, const std::string& address, const app::PageWish& page, int total) {
  const std::string joint = address.find('?') == std::string::npos ? "?" : "&";
  const auto from = [&](int first) { return address + joint + "from=" + std::to_string(first); };
  view["before"] = page.first > 0 ? from(std::max(0, page.first - page.most)) : "";
  view["after"] = page.first + page.most < total ? from(page.first + page.most) : "";
  view["total"] = total > page.most ? std::to_string(total) : "";
  view["first"] = total == 0 ? 0 : page.first + 1;
  view["last"] = std::min(total, page.first + page.most);
}

}  // namespace loadlight::web
