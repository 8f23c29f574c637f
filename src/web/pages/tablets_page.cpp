#include <algorithm>

#include "web/lan_place.h"
#include "web/pages/pages.h"
#include "web/symbol_picture.h"

namespace loadlight::web {
namespace {

// In groups of four, as people compare it.
std::string grouped(const std::string& digits) {
  std::string text;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && i % 4 == 0) text.push_back(' ');
    text.push_back(digits[i]);
  }
  return text;
}

// Schemes, names and numbers of addresses are the same in capitals, which make a smaller symbol.
std::string in_capitals(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
  return text;
}

// Where a device goes first. Its path is in capitals, so that the whole address is.
std::string address_of(const LanAddress& lan) {
  return lan.urls.front() + "TABLETS";
}

}  // namespace

Response tablets_page(Visit& visit) {
  const auto lan = visit.desk.kept<LanPlace>().get();
  View view{{"title", visit.word("page.tablets.title")}, {"at", "/set-up"}, {"serving", lan.has_value()}};
  if (lan) {
    view["fingerprint"] = grouped(lan->fingerprint);
    view["address"] = address_of(*lan);
    for (std::size_t i = 1; i + 1 < lan->urls.size(); ++i) view["others"].push_back(lan->urls[i] + "TABLETS");
  }
  return visit.page("pages/tablets", std::move(view));
}

Response authority_certificate(Visit& visit) {
  const auto lan = visit.desk.kept<LanPlace>().get();
  if (!lan) return visit.failed({core::FailureCode::PageUnknown, {}, {}});
  return visit.file(lan->authority, "application/x-x509-ca-cert", "loadlight-authority.crt");
}

Response station_address_symbol(Visit& visit) {
  const auto lan = visit.desk.kept<LanPlace>().get();
  if (!lan) return visit.failed({core::FailureCode::PageUnknown, {}, {}});
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  auto svg = symbol_svg((*shop)->shop.encoder, in_capitals(address_of(*lan)));
  return svg ? visit.file(std::move(*svg), "image/svg+xml") : visit.failed(svg.failure());
}

}  // namespace loadlight::web
