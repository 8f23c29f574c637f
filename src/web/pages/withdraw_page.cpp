#include "loadlight/app/open_package.h"
#include "loadlight/app/package_reference.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response withdraw_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto packages = app::find_packages(ports, **unit, {std::string{visit.parameter("id")}});
  if (!packages) return visit.failed(packages.failure());
  const core::Package& package = packages->front();
  const auto contents = (*unit)->contents().find(package.contents);
  if (!contents) return visit.failed(contents.failure());
  View reasons = View::array();
  for (const auto& term : core::Vocabulary<core::WithdrawReason>::kTerms) {
    if (term.value == core::WithdrawReason::Indicator) continue;  // what the eyes see when it is opened
    reasons.push_back({{"code", term.text}, {"text", visit.word("page.withdraw." + std::string{term.text})}});
  }
  return visit.page("pages/withdraw", {{"title", visit.word("page.withdraw.title")},
                                       {"at", "/check"},
                                       {"package", package.id.grouped()},
                                       {"contents", *contents ? (**contents).name : package.contents},
                                       {"reasons", reasons},
                                       {"back", "/packages/" + package.id.text()},
                                       {"withdraw", visit.form_for("/packages/" + package.id.text() + "/withdraw")}});
}

Response withdraw(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto why = core::parse<core::WithdrawReason>(visit.field("why"));
  if (!why) return visit.failed({core::FailureCode::BadValue, {{"field", "why"}, {"known", "wet, torn, dropped, other"}}, {}});
  const auto package = app::withdraw_package(
      (*office)->ports, {visit.operator_code(), std::string{visit.parameter("id")}, *why});
  if (!package) return visit.failed(package.failure());
  return visit.go_to("/packages/" + package->id.text(), "withdrawn", {{"package", package->id.grouped()}});
}

}  // namespace loadlight::web
