#include "loadlight/app/act.h"
#include "loadlight/app/cut_off.h"
#include "loadlight/app/sign_in.h"
#include "web/cookies.h"
#include "web/local_path.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using SteadyClock = std::chrono::steady_clock;

// Everybody who works here today; those who just worked at this browser first.
core::Result<View> operators_of(const Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto reading = app::begin_reading((*office)->ports);
  if (!reading) return reading.failure();
  const auto all = reading->unit().operators().all();
  if (!all) return all.failure();
  View list = View::array();
  for (const core::Operator& each : *all) {
    const auto works = app::works_here((*office)->ports, reading->unit(), each);
    if (!works) return works.failure();
    if (*works) list.push_back({{"code", each.code}, {"name", each.name}});
  }
  return list;
}

Response let_in(Visit& visit, const core::Operator& who, bool by_pin) {
  const std::string name =
      visit.desk.sign_ins().begin(visit.cookie, who.code, by_pin, SteadyClock::now());
  const std::string back = local_path(visit.field("back"));
  Response response = visit.go_to(back, "signed-in", {{"name", who.name}});
  response.headers.emplace_back("Set-Cookie", browser_cookie(name, visit.request.head.secure));
  return response;
}

std::chrono::seconds lock_of(const Visit& visit) {
  const auto office = visit.desk.office();
  return office ? app::idle_lock((*office)->ports) : std::chrono::minutes{0};
}

core::Result<core::Operator> who_is_back(const Visit& visit, const app::Ports& ports, bool by_pin) {
  if (!by_pin) return app::sign_in_by_badge(ports, visit.field("badge"));
  return app::sign_in_by_pin(ports, visit.desk.pins(), visit.field("operator"), visit.field("pin"));
}

}  // namespace

Response sign_in_page(Visit& visit) {
  const auto operators = operators_of(visit);
  if (!operators) return visit.failed(operators.failure());
  if (operators->empty()) return visit.go_to("/first-run");
  View recent = View::array();
  for (const std::string& code : visit.desk.sign_ins().recent(visit.cookie, SteadyClock::now(), lock_of(visit))) {
    for (const View& each : *operators) {
      if (each["code"] == code) recent.push_back(each);
    }
  }
  return visit.page("pages/sign-in", {{"title", visit.word("page.sign-in.title")},
                                      {"operators", *operators},
                                      {"recent", recent},
                                      {"any_recent", !recent.empty()},
                                      {"needs_pin", visit.asked("pin") == "1"},
                                      {"back", local_path(visit.asked("back"))},
                                      {"by_pin", visit.form_for("/sign-in")},
                                      {"by_badge", visit.form_for("/sign-in/badge")},
                                      {"by_switch", visit.form_for("/sign-in/switch")},
                                      {"out", visit.form_for("/sign-out")}});
}

Response sign_in(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto who = app::sign_in_by_pin((*office)->ports, visit.desk.pins(), visit.field("operator"),
                                       visit.field("pin"));
  return who ? let_in(visit, *who, true) : visit.failed(who.failure());
}

Response sign_in_by_badge(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto who = app::sign_in_by_badge((*office)->ports, visit.field("badge"));
  return who ? let_in(visit, *who, false) : visit.failed(who.failure());
}

Response switch_operator(Visit& visit) {
  const std::string code{visit.field("operator")};
  if (!visit.desk.sign_ins().switch_to(visit.cookie, code, SteadyClock::now(), lock_of(visit))) {
    return visit.failed({core::FailureCode::SignInNeeded, {}, {}});
  }
  return visit.go_to(local_path(visit.field("back")));
}

// A page asks how long it may stay open (get), or says that somebody is using it (post).
Response still_here(Visit& visit) {
  return visit.json({{"who", visit.operator_code()}, {"left", visit.lock_left.count()}});
}

// The one who was signed in here is back, and finds the page as it was left.
Response unlock(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const bool by_pin = visit.field("badge").empty();
  const auto who = who_is_back(visit, (*office)->ports, by_pin);
  if (!who) return visit.failed(who.failure());
  if (!visit.desk.sign_ins().unlock(visit.cookie, who->code, by_pin, SteadyClock::now())) {
    return visit.failed({core::FailureCode::SignInNeeded, {}, {}});
  }
  return visit.json({{"who", who->code}, {"left", lock_of(visit).count()}});
}

Response sign_out(Visit& visit) {
  visit.desk.sign_ins().end(visit.cookie);
  return visit.go_to("/", "signed-out");
}

}  // namespace loadlight::web
