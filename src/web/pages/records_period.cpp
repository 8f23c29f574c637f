#include "loadlight/app/print_record.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Result;

Result<core::CivilDate> day_in(const Visit& visit, std::string_view name) {
  const std::string given{visit.asked(name)};
  const auto day = core::CivilDate::parse_iso(given);
  if (day) return *day;
  return core::Failure{core::FailureCode::BadDate, {{"given", given.substr(0, 40)}}, {}};
}

Result<app::PeriodRequest> request_of(const Visit& visit) {
  const auto first = day_in(visit, "from");
  if (!first) return first.failure();
  const auto last = day_in(visit, "to");
  if (!last) return last.failure();
  return app::PeriodRequest{*first, *last, std::string{visit.asked("sterilizer").substr(0, 10)}};
}

std::string name_of(const app::PeriodRequest& request, const char* ending) {
  return "records-" + request.first.iso() + "-" + request.last.iso() + ending;
}

}  // namespace

Response period_pdf(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto request = request_of(visit);
  if (!request) return visit.failed(request.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const auto paper = visit.asked("paper") == "letter" ? app::PageSize::Letter : app::PageSize::A4;
  const app::PageShop pages{(*shop)->shop.gauge, (*shop)->shop.press, visit.language.words, paper};
  auto pdf = app::period_record_pdf((*office)->ports, pages, *request);
  if (!pdf) return visit.failed(pdf.failure());
  return visit.file(std::move(*pdf), "application/pdf", name_of(*request, ".pdf"));
}

Response period_csv(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto request = request_of(visit);
  if (!request) return visit.failed(request.failure());
  auto csv = app::period_record_csv((*office)->ports, *request);
  if (!csv) return visit.failed(csv.failure());
  return visit.file(std::move(*csv), "text/csv; charset=utf-8", name_of(*request, ".csv"));
}

}  // namespace loadlight::web
