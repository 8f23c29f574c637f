#include "loadlight/app/print_recall.h"
#include "loadlight/app/release_load.h"
#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/pages/recall_view.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;


// What an act on an incident needs.
struct Asked final {
  std::shared_ptr<app::OpenOffice> office;
  int incident = 0;
  std::string path;
};

Result<Asked> asked(const Visit& visit) {
  const auto number = incident_of(visit);
  if (!number) return Failure{FailureCode::IncidentUnknown, {}, {}};
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  return Asked{*office, *number, recall_path(*number)};
}

std::string text_of(const Visit& visit, std::string_view name) {
  return std::string{visit.field(name)};
}

Failure bad_value(const char* field, std::string_view given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::string{given.substr(0, 60)}}}, {}};
}

Result<core::LoadName> load_in(const Visit& visit, const char* field) {
  const auto load = core::LoadName::parse(visit.field(field));
  if (!load) return Failure{FailureCode::BadLoadName, {{"given", std::string{visit.field(field).substr(0, 60)}}}, {}};
  return *load;
}

// The query of the page that the form stood on, as it was given to the form.
std::string back_to(const Visit& visit, const std::string& path) {
  const std::string query = text_of(visit, "back");
  const bool plain = query.size() > 1 && query.size() < 200 && query.front() == '&' &&
                     query.find_first_of(" \"<>#\\\r\n?/:") == std::string::npos;
  return plain ? path + "?" + query.substr(1) : path;
}

}  // namespace

Response do_incident_step(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  const auto incident = app::do_step(act->office->ports, {visit.operator_code(), act->incident, text_of(visit, "step"),
                                                          text_of(visit, "finding"), text_of(visit, "note")});
  if (!incident) return visit.failed(incident.failure());
  return visit.go_to(act->path, "incident-step", {{"step", visit.word("incident.step." + text_of(visit, "step"))}});
}

Response account_for_suspect(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  const std::string package = text_of(visit, "package").substr(0, 200);
  // A scan that is only to be shown.
  if (visit.field("as") == "show") {
    const auto suspect = app::find_suspect(act->office->ports, act->incident, package);
    if (!suspect) return visit.failed(suspect.failure());
    return visit.go_to(act->path + "?package=" + suspect->package.id.text());
  }
  const auto disposition = core::parse<core::Disposition>(visit.field("as"));
  if (!disposition) return visit.failed(bad_value("as", visit.field("as")));
  const auto suspect = app::account_for(
      act->office->ports, {visit.operator_code(), act->incident, package, *disposition, text_of(visit, "why")});
  if (!suspect) return visit.failed(suspect.failure());
  const core::Details done{{"package", suspect->package.id.grouped()},
                           {"disposition", visit.word("disposition." + code_text(*disposition))}};
  if (visit.field("scanned") != "1") return visit.go_to(back_to(visit, act->path), "accounted", done);
  return visit.json({{"package", suspect->package.id.text()}, {"text", visit.word("done.accounted", done)}});
}

Response narrow_incident(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  const auto first = load_in(visit, "first");
  if (!first) return visit.failed(first.failure());
  const auto last = load_in(visit, "last");
  if (!last) return visit.failed(last.failure());
  const auto incident = app::narrow_range(act->office->ports,
                                          {visit.operator_code(), act->incident, *first, *last, text_of(visit, "why")});
  if (!incident) return visit.failed(incident.failure());
  return visit.go_to(act->path, "narrowed", {{"first", first->text()}, {"last", last->text()}});
}

Response call_load_back(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  const auto load = load_in(visit, "load");
  if (!load) return visit.failed(load.failure());
  const auto reply = app::recall_load(act->office->ports, {visit.operator_code(), *load, text_of(visit, "why")});
  if (!reply) return visit.failed(reply.failure());
  return visit.go_to(act->path, "called-back",
                     {{"load", load->text()}, {"opened", std::to_string(reply->opened_already.size())}});
}

Response close_incident_form(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  const auto incident =
      app::close_incident(act->office->ports, {visit.operator_code(), act->incident, text_of(visit, "note")});
  if (!incident) return visit.failed(incident.failure());
  return visit.go_to(act->path, "incident-closed", {{"incident", std::to_string(act->incident)}});
}

Response recall_notice_paper(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const app::PageShop pages{(*shop)->shop.gauge, (*shop)->shop.press, visit.language.words, app::PageSize::A4};
  auto pdf = app::recall_notice_pdf(act->office->ports, pages, act->incident);
  if (!pdf) return visit.failed(pdf.failure());
  return visit.file(std::move(*pdf), "application/pdf", "recall-" + std::to_string(act->incident) + ".pdf");
}

Response recall_notice_table(Visit& visit) {
  const auto act = asked(visit);
  if (!act) return visit.failed(act.failure());
  auto csv = app::recall_csv(act->office->ports, act->incident);
  if (!csv) return visit.failed(csv.failure());
  return visit.file(std::move(*csv), "text/csv; charset=utf-8", "recall-" + std::to_string(act->incident) + ".csv");
}

}  // namespace loadlight::web
