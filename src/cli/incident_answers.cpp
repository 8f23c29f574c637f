#include "cli/incident_answers.h"

#include "cli/answers.h"

namespace loadlight::cli {
namespace {

std::string disposition_of(const app::Suspect& suspect) {
  return suspect.disposition ? code(*suspect.disposition) : "on-shelf";
}

}  // namespace

Json incident_json(const core::Incident& incident) {
  return {{"incident", incident.number},
          {"cause", code(incident.cause)},
          {"state", code(incident.state)},
          {"sterilizer", incident.sterilizer},
          {"load", incident.load().text()},
          {"procedure", code(incident.procedure)},
          {"recall", code(incident.recall)},
          {"sterilizer_held", incident.sterilizer_held},
          {"opened", core::to_text(incident.opened_at)},
          {"narrowed", incident.narrowed_why.empty() ? Json(nullptr) : Json(incident.narrowed_why)}};
}

core::Details said(core::Details details) {
  std::erase_if(details, [](const core::Detail& detail) { return detail.second.empty(); });
  return details;
}

std::string incident_line(const Context& context, const core::Incident& incident) {
  return context.text("line.incident",
                      {{"incident", std::to_string(incident.number)},
                       {"cause", context.text("incident.cause." + code(incident.cause))},
                       {"load", incident.load().text()},
                       {"state", code(incident.state)},
                       {"recall", context.text("incident.recall." + code(incident.recall))}});
}

Json suspect_json(const app::Suspect& suspect) {
  return {{"package", suspect.package.id.text()},
          {"load", suspect.package.load.text()},
          {"disposition", disposition_of(suspect)},
          {"location", optional_text(suspect.package.location)},
          {"visit", optional_text(suspect.package.visit)},
          {"contents", suspect.package.contents},
          {"contents_name", suspect.contents_name},
          {"called_back", suspect.called_back},
          {"why", suspect.why.empty() ? Json(nullptr) : Json(suspect.why)}};
}

std::string suspect_line(const Context& context, const app::Suspect& suspect) {
  return context.text("line.suspect",
                      said({{"package", suspect.package.id.grouped()},
                            {"contents", suspect.contents_name},
                            {"load", suspect.package.load.text()},
                            {"disposition", context.text("disposition." + disposition_of(suspect))},
                            {"location", suspect.package.location.value_or("")},
                            {"visit", suspect.package.visit.value_or("")}}));
}

}  // namespace loadlight::cli
