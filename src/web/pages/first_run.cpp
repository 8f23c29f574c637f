#include <algorithm>
#include <charconv>

#include "loadlight/app/begin_office.h"
#include "loadlight/app/sign_in.h"
#include "web/cookies.h"
#include "web/entry_fields.h"
#include "web/first_tables.h"
#include "web/issued_pins.h"
#include "web/pages/pages.h"
#include "web/profile_view.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using SteadyClock = std::chrono::steady_clock;

// One first run at a time.
struct FirstRunTurn final {
  std::mutex mutex;
};

// An office that was made by command and has nobody in it yet: somebody may begin to lead it.
bool is_unmanned(const app::OpenOffice& office) {
  const auto operators = app::list_entries(office.ports, app::OfficeTable::Operators);
  return operators && operators->empty();
}

// What keeps a first run from happening here: it is for an office that is not there yet or has nobody in it, and
// for whoever sits at the machine itself.
std::optional<Failure> first_run_hindrance(const Visit& visit) {
  if (!visit.request.head.local) return Failure{FailureCode::OnThisMachineOnly, {}, {}};
  const auto office = visit.desk.office();
  if (office && is_unmanned(**office)) return std::nullopt;
  if (office) return Failure{FailureCode::OfficeExists, {}, {}};
  if (office.failure().code != FailureCode::OfficeAbsent) return office.failure();
  return std::nullopt;
}

View zones_of(const Visit& visit) {
  const app::World& world = visit.desk.world();
  View list = View::array();
  std::vector<std::string> names = world.zone_names();
  if (std::find(names.begin(), names.end(), world.own_zone_name) == names.end()) {
    names.insert(names.begin(), world.own_zone_name);
  }
  for (const std::string& name : names) {
    list.push_back({{"name", name}, {"selected", name == world.own_zone_name}});
  }
  return list;
}

View languages_of(const Visit& visit) {
  View list = View::array();
  for (const auto& [code, name] : kLanguages) {
    list.push_back({{"code", code}, {"name", name}, {"selected", visit.language.code == code}});
  }
  return list;
}

View tables_of(const Visit& visit) {
  View list = View::array();
  for (const FirstTable& first : first_tables()) {
    const std::string name{first.name};
    list.push_back({{"name", name},
                    {"title", visit.word("first-run." + name + ".title")},
                    {"advice", visit.word("first-run." + name + ".advice")},
                    {"needed", first.needed},
                    {"fields", entry_fields(visit, first.table, name + ".", example_of(visit, first))}});
  }
  return list;
}

Result<app::OfficeRequest> office_of(const Visit& visit) {
  app::OfficeRequest request;
  request.name = visit.field("office-name");
  request.zone = visit.field("zone");
  request.profile = visit.field("profile");
  request.language = visit.field("language");
  const auto is_offered = [&](const auto& each) { return each.first == request.language; };
  if (std::none_of(std::begin(kLanguages), std::end(kLanguages), is_offered)) {
    return Failure{FailureCode::BadValue, {{"field", "language"}, {"given", request.language.substr(0, 20)}}, {}};
  }
  if (visit.field("shelf-life") == "event") return request;
  const std::string_view days = visit.field("days");
  int number = 0;
  const auto [end, error] = std::from_chars(days.data(), days.data() + days.size(), number);
  if (error != std::errc{} || end != days.data() + days.size()) {
    return Failure{FailureCode::BadValue, {{"field", "shelf-life"}, {"given", std::string{days.substr(0, 20)}}}, {}};
  }
  request.shelf_life_days = number;
  return request;
}

// The lead and his PIN.
Result<app::FirstRunRequest> lead_of(const Visit& visit) {
  app::FirstRunRequest request;
  request.lead = {{"code", std::string{visit.field("lead-code")}}, {"name", std::string{visit.field("lead-name")}}};
  if (visit.field("pin-how") == "choose") {
    request.pin = visit.field("pin");
    if (request.pin.empty()) return Failure{FailureCode::PinTooWeak, {}, {}};
  }
  return request;
}

Result<app::FirstRunRequest> request_of(const Visit& visit) {
  auto request = lead_of(visit);
  if (!request) return request;
  const auto office = office_of(visit);
  if (!office) return office.failure();
  request->office = *office;
  for (const FirstTable& first : first_tables()) {
    const std::string name{first.name};
    if (visit.field(name) != "yes") continue;
    request->entries.emplace_back(first.table, entry_of(visit, first.table, name + "."));
  }
  return request;
}

// Where the lead goes on to, and what is said there.
struct Next final {
  std::string path;
  std::string done;
};

// In with the lead, at this browser; an issued PIN is shown on the way.
Response let_in(Visit& visit, const core::Operator& lead, const std::string& pin, const Next& next) {
  const auto now = SteadyClock::now();
  const std::string name = visit.desk.sign_ins().begin(visit.cookie, lead.code, true, now);
  const bool issued = visit.field("pin-how") != "choose";
  if (issued) visit.desk.kept<IssuedPins>().keep(name, {lead.code, lead.name, pin, next.path, next.done}, now);
  Response response = issued ? visit.go_to("/set-up/pin") : visit.go_to(next.path, next.done);
  response.headers.emplace_back("Set-Cookie", browser_cookie(name, visit.request.head.secure));
  return response;
}

Response begin_to_lead(Visit& visit, const app::Ports& ports) {
  const auto request = lead_of(visit);
  if (!request) return visit.failed(request.failure());
  const auto begun = app::begin_work(ports, visit.desk.pins(), *request);
  if (!begun) return visit.failed(begun.failure());
  return let_in(visit, begun->lead, begun->pin, {"/set-up", {}});
}

// Whoever leads the demo office, with a PIN of his own.
Result<std::pair<core::Operator, std::string>> demo_lead(Visit& visit, const app::Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto operators = (*unit)->operators().all();
  if (!operators) return operators.failure();
  const auto today = ports.zone.local_date(ports.clock.now());
  const auto lead = std::find_if(operators->begin(), operators->end(), [today](const core::Operator& who) {
    return who.role == core::Role::Lead && who.current_on(today);
  });
  if (lead == operators->end()) return Failure{FailureCode::LeadRequired, {}, {}};
  const auto pin = app::set_pin(ports, visit.desk.pins(), {lead->code, lead->code, {}});
  if (!pin) return pin.failure();
  return std::pair{*lead, *pin};
}

}  // namespace

Response first_run_page(Visit& visit) {
  if (const auto why = first_run_hindrance(visit)) {
    return why->code == FailureCode::OfficeExists ? visit.go_to("/") : visit.failed(*why);
  }
  return visit.page("pages/first-run", {{"title", visit.word("page.first-run.title")},
                                        {"whole", !visit.desk.office()},
                                        {"zones", zones_of(visit)},
                                        {"office_languages", languages_of(visit)},
                                        {"profiles", profiles_view(visit, app::OfficeRequest{}.profile)},
                                        {"tables", tables_of(visit)},
                                        {"make", visit.form_for("/first-run")},
                                        {"demo", visit.form_for("/first-run/demo")}});
}

Response first_run(Visit& visit) {
  const std::lock_guard turn{visit.desk.kept<FirstRunTurn>().mutex};
  if (const auto why = first_run_hindrance(visit)) return visit.failed(*why);
  if (const auto unmanned = visit.desk.office()) return begin_to_lead(visit, (*unmanned)->ports);
  const auto request = request_of(visit);
  if (!request) return visit.failed(request.failure());
  auto begun = app::begin_office(visit.desk.world(), visit.desk.office_folder(), *request);
  if (!begun) return visit.failed(begun.failure());
  const auto office = visit.desk.adopt(std::move(begun->leaves));
  if (!office) return visit.failed(office.failure());
  return let_in(visit, begun->lead, begun->pin, {"/pack", "office-made"});
}

Response first_run_demo(Visit& visit) {
  const std::lock_guard turn{visit.desk.kept<FirstRunTurn>().mutex};
  if (const auto why = first_run_hindrance(visit)) return visit.failed(*why);
  if (visit.desk.office()) return visit.failed({FailureCode::OfficeExists, {}, {}});
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  app::OfficeRequest request;
  request.name = visit.word("demo.office-name");
  request.zone = visit.desk.world().own_zone_name;
  request.language = visit.language.code;
  request.shelf_life_days = 180;
  auto demo = app::begin_demo(visit.desk.world(), visit.desk.office_folder(), (*shop)->shop, request);
  if (!demo) return visit.failed(demo.failure());
  const auto office = visit.desk.adopt(std::move(demo->leaves));
  if (!office) return visit.failed(office.failure());
  const auto lead = demo_lead(visit, (*office)->ports);
  if (!lead) return visit.failed(lead.failure());
  return let_in(visit, lead->first, lead->second, {"/", {}});
}

}  // namespace loadlight::web
