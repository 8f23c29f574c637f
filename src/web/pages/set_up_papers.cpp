#include "loadlight/app/change_labels.h"
#include "loadlight/app/paper_in_hand.h"
#include "loadlight/app/print_badge.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

// Has `print` draw a PDF and hands it to the browser.
template <class Print>
Response paper(Visit& visit, const std::string& name, Print print) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const app::PaperInHand hand{(*shop)->shop};
  const auto printed = print((*office)->ports, hand.shop());
  if (!printed) return visit.failed(printed.failure());
  return visit.file(hand.pdf(), "application/pdf", name + ".pdf");
}

}  // namespace

Response badge_paper(Visit& visit) {
  const std::string of{visit.asked("operator")};
  return paper(visit, "badge-" + of, [&](const app::Ports& ports, const app::PrintShop& shop) {
    return app::print_badge(ports, shop, {visit.operator_code(), of, {}});
  });
}

Response shelf_tag_paper(Visit& visit) {
  const std::string location{visit.asked("location")};
  return paper(visit, "shelf-tag-" + location, [&](const app::Ports& ports, const app::PrintShop& shop) {
    return app::print_shelf_tag(ports, shop, {location, {}});
  });
}

}  // namespace loadlight::web
