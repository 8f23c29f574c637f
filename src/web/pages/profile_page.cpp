#include "web/form_values.h"
#include "web/pages/pages.h"
#include "web/profile_view.h"

namespace loadlight::web {
namespace {

core::Result<core::Office> office_settings(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  return (*unit)->office();
}

// What the office itself is set to: shown, not changed.
View facts_of(const Visit& visit, const core::Office& office) {
  const auto fact = [&](const char* name, const std::string& value) {
    return View{{"heading", visit.word("page.profile." + std::string{name})}, {"value", value}};
  };
  const std::string shelf_life =
      office.shelf_life_days
          ? visit.word("page.profile.days", {{"days", std::to_string(*office.shelf_life_days)}})
          : visit.word("page.first-run.by-event");
  return View::array({fact("office", office.name), fact("zone", office.zone), fact("shelf-life", shelf_life),
                      fact("near-days", visit.word("page.profile.days", {{"days", std::to_string(office.near_days)}})),
                      fact("clock-tolerance", visit.word("page.profile.minutes", {{"minutes", std::to_string(office.clock_tolerance_minutes)}}))});
}

}  // namespace

Response profile_page(Visit& visit) {
  const auto settings = office_settings(visit);
  if (!settings) return visit.failed(settings.failure());
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto shown = app::show_profile((*office)->ports);
  if (!shown) return visit.failed(shown.failure());
  View values = View::array();
  for (const app::ProfileLine& line : shown->lines) values.push_back(profile_value_view(visit, line));
  return visit.page("pages/profile", {{"title", visit.word("page.set-up.profile")},
                                      {"at", "/set-up"},
                                      {"profile_name", visit.word("profile." + settings->profile + ".name")},
                                      {"profile_meaning", visit.word("profile." + settings->profile + ".meaning")},
                                      {"profile", shown->profile},
                                      {"facts", facts_of(visit, *settings)},
                                      {"values", values},
                                      {"set", visit.form_for("/set-up/profile")}});
}

Response set_profile_value(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const std::string name = text_of(visit, "name");
  const auto set = app::set_profile_value((*office)->ports, {visit.operator_code(), name, text_of(visit, "value"),
                                                             text_of(visit, "why")});
  if (!set) return visit.failed(set.failure());
  return visit.go_to("/set-up/profile", "value-set", {{"value", visit.word("profile-value." + name)}});
}

}  // namespace loadlight::web
