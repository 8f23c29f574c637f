// The record for a reader outside the office.
#include "loadlight/app/export_record.h"
#include "web/form_values.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Result;

// An empty field leaves that end of the period open.
Result<void> take_day(const Visit& visit, const char* name, core::CivilDate& day) {
  const std::string text{visit.field(name)};
  if (text.empty()) return {};
  const auto parsed = core::CivilDate::parse_iso(text);
  if (!parsed) return core::Failure{core::FailureCode::BadDate, {{"field", name}, {"given", text.substr(0, 40)}}, {}};
  day = *parsed;
  return {};
}

Result<app::ExportRequest> request_of(const Visit& visit) {
  app::ExportRequest request;
  request.operator_code = visit.operator_code();
  const auto reader = core::parse<app::ExportReader>(visit.field("for"));
  if (!reader) {
    return core::Failure{core::FailureCode::BadValue,
                         {{"field", "for"}, {"given", std::string{visit.field("for").substr(0, 40)}}},
                         {}};
  }
  request.reader = *reader;
  if (const auto ok = take_day(visit, "from", request.first); !ok) return ok.failure();
  if (const auto ok = take_day(visit, "to", request.last); !ok) return ok.failure();
  return request;
}

}  // namespace

Response export_page(Visit& visit) {
  View readers = View::array();
  for (const auto& term : core::Vocabulary<app::ExportReader>::kTerms) {
    const std::string code{term.text};
    readers.push_back({{"code", code},
                       {"name", visit.word("page.export.for." + code)},
                       {"meaning", visit.word("export.for." + code)},
                       {"first", readers.empty()}});
  }
  return visit.page("pages/export",
                    {{"title", visit.word("page.set-up.export")}, {"at", "/set-up"}, {"readers", readers}, {"make", visit.form_for("/set-up/export")}});
}

Response export_archive(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto request = request_of(visit);
  if (!request) return visit.failed(request.failure());
  auto exported = app::export_record((*office)->ports, visit.language.words, *request);
  if (!exported) return visit.failed(exported.failure());
  Response response = visit.file(std::move(exported->archive), "application/x-tar");
  response.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + exported->name + "\"");
  return response;
}

}  // namespace loadlight::web
