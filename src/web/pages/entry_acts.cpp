#include "loadlight/app/set_profile.h"
#include "loadlight/app/sign_in.h"
#include "web/cookies.h"
#include "web/form_values.h"
#include "web/issued_pins.h"
#include "web/office_table.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using app::OfficeTable;
using core::Failure;
using core::FailureCode;
using SteadyClock = std::chrono::steady_clock;

// A new PIN ends every session of its owner; whoever gives himself one stays signed in here.
Response after_pin(Visit& visit, const core::Operator& owner, const std::string& pin, bool issued) {
  const auto now = SteadyClock::now();
  visit.desk.sign_ins().end_all_of(owner.code);
  const bool own = owner.code == visit.operator_code();
  const std::string name = own ? visit.desk.sign_ins().begin(visit.cookie, owner.code, true, now) : visit.cookie;
  const std::string next = path_of(OfficeTable::Operators);
  if (issued) visit.desk.kept<IssuedPins>().keep(name, {owner.code, owner.name, pin, next, "pin-set"}, now);
  Response response = issued ? visit.go_to("/set-up/pin") : visit.go_to(next, "pin-set", {{"code", owner.code}});
  if (own) response.headers.emplace_back("Set-Cookie", browser_cookie(name, visit.request.head.secure));
  return response;
}

}  // namespace

Response retire_entry(Visit& visit) {
  const auto table = table_named(visit.parameter("table"));
  if (!table) return visit.failed({FailureCode::PageUnknown, {}, {}});
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto row = app::retire_entry((*office)->ports, visit.operator_code(), *table, visit.field("code"));
  if (!row) return visit.failed(row.failure());
  if (*table == OfficeTable::Operators) visit.desk.sign_ins().end_all_of(code_of(*row));
  return visit.go_to(path_of(*table), "entry-retired", {{"code", code_of(*row)}});
}

Response set_operator_pin(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  app::PinRequest request{visit.operator_code(), std::string{visit.field("operator")}, {}};
  const bool issued = visit.field("pin-how") != "choose";
  if (!issued) request.pin = visit.field("pin");
  if (!issued && request.pin.empty()) return visit.failed({FailureCode::PinTooWeak, {}, {}});
  const auto pin = app::set_pin((*office)->ports, visit.desk.pins(), request);
  if (!pin) return visit.failed(pin.failure());
  const auto owner = app::signed_in_operator((*office)->ports, request.of);
  if (!owner) return visit.failed(owner.failure());
  return after_pin(visit, *owner, *pin, issued);
}

Response rate_stock(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto rating = term_of<core::SteamRating>(visit, "rating");
  if (!rating) return visit.failed(rating.failure());
  const auto row = app::rate_stock((*office)->ports, {visit.operator_code(), text_of(visit, "code"), *rating,
                                                      text_of(visit, "note")});
  if (!row) return visit.failed(row.failure());
  return visit.go_to(path_of(OfficeTable::Stocks, code_of(*row)), "stock-rated", {{"code", code_of(*row)}});
}

Response accept_program(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto program =
      app::accept_program((*office)->ports, {visit.operator_code(), text_of(visit, "code")});
  if (!program) return visit.failed(program.failure());
  return visit.go_to(path_of(OfficeTable::Programs, program->code), "program-accepted", {{"code", program->code}});
}

}  // namespace loadlight::web
