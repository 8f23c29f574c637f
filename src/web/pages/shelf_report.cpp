#include <charconv>

#include "loadlight/app/print_audit.h"
#include "web/audit_lines.h"
#include "web/pages/pages.h"
#include "web/shelf_audits.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

// The report brings its own style and pictures and needs nothing else; no script of any kind runs in it.
constexpr const char* kReportPolicy =
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'self'";

struct Found final {
  std::shared_ptr<app::OpenOffice> office;
  std::shared_ptr<const app::AuditReply> reply;
};

Result<Found> found(const Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto audit = visit.desk.kept<ShelfAudits>().find(visit.parameter("sweep"));
  const auto reply = audit ? audit->reply() : nullptr;
  if (!reply) return Failure{FailureCode::JobUnknown, {}, {}};
  return Found{*office, reply};
}

struct Facts final {
  Found from;
  report::AuditFacts facts;
};

Result<Facts> facts_of(const Visit& visit) {
  auto from = found(visit);
  if (!from) return from.failure();
  auto facts = app::audit_on_paper(from->office->ports, visit.language.words, *from->reply);
  if (!facts) return facts.failure();
  return Facts{std::move(*from), std::move(*facts)};
}

}  // namespace

Response audit_report(Visit& visit) {
  const auto facts = facts_of(visit);
  if (!facts) return visit.failed(facts.failure());
  Response response = visit.file(report::audit_page(facts->facts, visit.language.words), "text/html; charset=utf-8");
  response.headers.emplace_back("Content-Security-Policy", kReportPolicy);
  return response;
}

Response audit_report_pdf(Visit& visit) {
  const auto facts = facts_of(visit);
  if (!facts) return visit.failed(facts.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const app::PageShop pages{(*shop)->shop.gauge, (*shop)->shop.press, visit.language.words, app::PageSize::A4};
  auto pdf = app::audit_pdf(pages, facts->facts, facts->from.reply->ended_at);
  if (!pdf) return visit.failed(pdf.failure());
  return visit.file(std::move(*pdf), "application/pdf", facts->from.reply->audit + ".pdf");
}

Response audit_report_csv(Visit& visit) {
  const auto facts = facts_of(visit);
  if (!facts) return visit.failed(facts.failure());
  return visit.file(app::audit_csv(facts->facts), "text/csv; charset=utf-8", facts->from.reply->audit + ".csv");
}

Response audit_report_lines(Visit& visit) {
  const auto from = found(visit);
  if (!from) return visit.failed(from.failure());
  return visit.file(audit_lines(visit.language.words, *from->reply), "application/jsonl; charset=utf-8",
                    from->reply->audit + ".jsonl");
}

Response unreadable_picture(Visit& visit) {
  const auto from = found(visit);
  if (!from) return visit.failed(from.failure());
  const std::string_view text = visit.parameter("picture");
  std::size_t number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  const auto& symbols = from->reply->unreadable;
  if (number < 1 || number > symbols.size() || symbols[number - 1].jpeg.empty()) {
    return visit.failed({FailureCode::PageUnknown, {}, {}});
  }
  return visit.file(symbols[number - 1].jpeg, "image/jpeg");
}

}  // namespace loadlight::web
