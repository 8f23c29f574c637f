#include <algorithm>

#include "loadlight/app/open_package.h"
#include "loadlight/app/package_reference.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::IndicatorLook;
using core::Result;

// A question without its answer: nothing is taken for granted.
Failure unanswered(const std::string& field, const std::string& known) {
  return {FailureCode::BadValue, {{"field", field}, {"known", known}}, {}};
}

Result<bool> yes_or_no(const Visit& visit, const std::string& field) {
  const auto given = visit.field(field);
  if (given == "yes") return true;
  if (given == "no") return false;
  return unanswered(field, "yes, no");
}

Result<IndicatorLook> look_in(const Visit& visit, const std::string& field) {
  const auto look = core::parse<IndicatorLook>(visit.field(field));
  return look ? Result<IndicatorLook>{*look} : Result<IndicatorLook>{unanswered(field, "changed, unchanged")};
}

Result<app::OpenRequest> request_of(const Visit& visit, const core::PackageId& id) {
  const auto dry = yes_or_no(visit, "dry");
  if (!dry) return dry.failure();
  const auto intact = yes_or_no(visit, "intact");
  if (!intact) return intact.failure();
  const auto indicator = look_in(visit, "indicator");
  if (!indicator) return indicator.failure();
  app::OpenRequest request{visit.operator_code(), id.text(), {}, *dry, *intact, *indicator,
                           std::string{visit.field("already")}};
  if (!visit.field("visit").empty()) request.visit = std::string{visit.field("visit")};
  return request;
}

// Every reason with what to do about it, as a failure's items.
Failure refusal_of(const app::CheckReply& check) {
  Failure failure{FailureCode::NotOpenable, {}, {}};
  for (const core::Reason reason : check.verdict.reasons()) {
    const std::string key = "reason." + std::string{core::to_text(reason)};
    failure.items.push_back({key + ".text", {}});
    failure.items.push_back({key + ".action", {}});
  }
  return failure;
}

struct Found final {
  std::shared_ptr<app::OpenOffice> office;
  core::PackageId id;
};

Result<Found> find(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto id = app::package_id_of((*office)->ports, visit.parameter("id"));
  if (!id) return id.failure();
  return Found{*office, *id};
}

// The package of a page, which must be in the record.
Result<core::Package> package_of(const port::Unit& unit, const core::PackageId& id) {
  const auto package = unit.packages().find(id);
  if (!package) return package.failure();
  if (!*package) return Failure{FailureCode::PackageUnknown, {{"package", id.text()}}, {}};
  return **package;
}

// The incident that this package's indicator opened; 0 if there is none.
Result<int> incident_of(const port::Unit& unit, const core::PackageId& id) {
  const auto all = unit.incidents().all();
  if (!all) return all.failure();
  const auto found = std::find_if(all->begin(), all->end(), [&](const core::Incident& each) {
    return each.cause == core::IncidentCause::InternalIndicator && each.note == id.text();
  });
  return found == all->end() ? 0 : found->number;
}

}  // namespace

Response open_page(Visit& visit) {
  const auto found = find(visit);
  if (!found) return visit.failed(found.failure());
  const app::Ports& ports = found->office->ports;
  const auto reading = app::begin_reading(ports);
  if (!reading) return visit.failed(reading.failure());
  const auto package = package_of(reading->unit(), found->id);
  if (!package) return visit.failed(package.failure());
  const std::string path = "/packages/" + found->id.text();
  if (package->state == core::PackageState::Opened) return visit.go_to(path + "/opened");
  const auto reply = app::judge_item(ports, *reading, {app::CheckItem::How::TypedId, found->id.text(), std::nullopt});
  View card = own_page_view(visit, reply);
  card["at"] = time_text(visit, ports.zone, ports.clock.now());
  return visit.page("pages/open", {{"title", visit.word("page.open.title")},
                                   {"at", "/check"},
                                   {"card", card},
                                   {"may_open", reply.verdict.outcome() == core::Outcome::Clear},
                                   {"back", path},
                                   {"open", visit.form_for(path + "/open")}});
}

Response open_package(Visit& visit) {
  const auto found = find(visit);
  if (!found) return visit.failed(found.failure());
  const auto request = request_of(visit, found->id);
  if (!request) return visit.failed(request.failure());
  const auto reply = app::open_package(found->office->ports, *request);
  if (!reply) return visit.failed(reply.failure());
  const std::string path = "/packages/" + found->id.text();
  switch (reply->outcome) {
    case app::OpenOutcome::Opened:
      if (reply->check.from_copy) return visit.go_to("/check", "opened-queued", {{"package", found->id.grouped()}});
      return visit.go_to(path + "/opened", "opened", {{"package", found->id.grouped()}});
    case app::OpenOutcome::Withdrawn:
      return visit.go_to(path, "withdrawn-instead", {{"package", found->id.grouped()}});
    case app::OpenOutcome::Refused:
      break;
  }
  return visit.failed(refusal_of(reply->check));
}

Response opened_page(Visit& visit) {
  const auto found = find(visit);
  if (!found) return visit.failed(found.failure());
  const app::Ports& ports = found->office->ports;
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto package = package_of(**unit, found->id);
  if (!package) return visit.failed(package.failure());
  const auto contents = (*unit)->contents().find(package->contents);
  if (!contents) return visit.failed(contents.failure());
  const std::string path = "/packages/" + found->id.text();
  const bool opened = package->state == core::PackageState::Opened;
  const bool unchanged = package->internal_indicator == IndicatorLook::Unchanged;
  const auto incident = unchanged ? incident_of(**unit, found->id) : Result<int>{0};
  if (!incident) return visit.failed(incident.failure());
  const std::string number = std::to_string(*incident);
  return visit.page("pages/opened", {{"title", visit.word("page.opened.title")},
                                     {"at", "/check"},
                                     {"package", found->id.grouped()},
                                     {"contents", *contents ? (**contents).name : package->contents},
                                     {"load", package->load.text()},
                                     {"not_opened", !opened},
                                     {"to_read", opened && !package->internal_indicator},
                                     {"changed", package->internal_indicator == IndicatorLook::Changed},
                                     {"unchanged", unchanged},
                                     {"incident", *incident == 0 ? "" : number},
                                     {"incident_link", "/recall/" + number},
                                     {"back", path},
                                     {"read", visit.form_for(path + "/opened")}});
}

Response record_internal(Visit& visit) {
  const auto found = find(visit);
  if (!found) return visit.failed(found.failure());
  const auto look = look_in(visit, "internal");
  if (!look) return visit.failed(look.failure());
  const auto reply = app::record_internal_indicator(found->office->ports,
                                                    {visit.operator_code(), found->id.text(), *look});
  if (!reply) return visit.failed(reply.failure());
  if (*look == IndicatorLook::Changed) {
    return visit.go_to("/check", "internal-changed", {{"package", found->id.grouped()}});
  }
  return visit.go_to("/packages/" + found->id.text() + "/opened");  // which says what to do now
}

}  // namespace loadlight::web
