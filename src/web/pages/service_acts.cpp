#include "loadlight/app/service_sterilizer.h"
#include "web/form_values.h"
#include "web/office_table.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

std::string back_to(const std::string& sterilizer) {
  return path_of(app::OfficeTable::Sterilizers, sterilizer);
}

}  // namespace

Response record_service(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto kind = term_of<core::ServiceKind>(visit, "kind");
  if (!kind) return visit.failed(kind.failure());
  const auto next_due = date_if_any(visit, "next-due");
  if (!next_due) return visit.failed(next_due.failure());
  const app::ServiceRequest request{visit.operator_code(), text_of(visit, "code"), *kind, text_of(visit, "note"),
                                    visit.field("counter-reset") == "yes", *next_due};
  const auto entry = app::record_service((*office)->ports, request);
  if (!entry) return visit.failed(entry.failure());
  return visit.go_to(back_to(entry->sterilizer), "serviced", {{"code", entry->sterilizer}});
}

Response take_out_of_service(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto sterilizer = app::take_out_of_service(
      (*office)->ports, {visit.operator_code(), text_of(visit, "code"), text_of(visit, "why")});
  if (!sterilizer) return visit.failed(sterilizer.failure());
  return visit.go_to(back_to(sterilizer->code), "out-of-service", {{"code", sterilizer->code}});
}

Response return_to_service(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto sterilizer = app::return_to_service(
      (*office)->ports, {visit.operator_code(), text_of(visit, "code"), text_of(visit, "note")});
  if (!sterilizer) return visit.failed(sterilizer.failure());
  return visit.go_to(back_to(sterilizer->code), "back-in-service", {{"code", sterilizer->code}});
}

}  // namespace loadlight::web
