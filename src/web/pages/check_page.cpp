#include <algorithm>
#include <span>

#include "loadlight/app/check_packages.h"
#include "web/chair_cameras.h"
#include "web/package_view.h"
#include "web/pages/check_items.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using app::CheckItem;
using core::Outcome;

// The next frame is the second try.
constexpr port::ReadBudget kFrameBudget{std::chrono::milliseconds{250}, port::Effort::Quick, 1};

std::vector<CheckItem> items_of(const std::vector<port::SymbolSighting>& sightings) {
  std::vector<CheckItem> items;
  for (const port::SymbolSighting& sighting : sightings) {
    label::Quad corners;
    for (std::size_t i = 0; i < corners.size(); ++i) corners[i] = {sighting.corners[i].x, sighting.corners[i].y};
    items.push_back({CheckItem::How::Symbol, sighting.text, corners});
  }
  return items;
}

View corners_view(const label::Quad& corners) {
  View list = View::array();
  for (const label::Point& p : corners) list.push_back({p.x, p.y});
  return list;
}

// A card of this answer, drawn.
View card_of(const Visit& visit, const app::CheckReply& reply) {
  View view = check_view(visit, reply);
  if (reply.package) {
    const bool clear = reply.verdict.outcome() == Outcome::Clear;
    view["open_link"] = clear ? "/packages/" + *reply.package + "/open" : "";
    view["more_link"] = "/packages/" + *reply.package;
  }
  const auto now = visit.desk.world().clock.now();
  if (const auto office = visit.desk.office()) view["at"] = time_text(visit, *(*office)->zone, now);
  return {{"package", reply.package.value_or("")},
          {"outcome", code_text(reply.verdict.outcome())},
          {"read", reply.read},
          {"reasons", reason_codes(reply.verdict)},
          {"said", visit.word("outcome." + code_text(reply.verdict.outcome()))},
          {"html", visit.piece("parts/verdict", view).body}};
}

View in_view_of(const Visit& visit, const InView& each) {
  View view{{"corners", corners_view(each.corners)},
            {"outcome", each.reply ? code_text(each.reply->verdict.outcome()) : "reading"},
            {"package", each.reply ? each.reply->package.value_or("") : ""},
            {"read", each.read}};
  if (each.reply && each.is_new) view["card"] = card_of(visit, *each.reply);
  return view;
}

std::vector<InView> seen_in(Visit& visit, std::vector<CheckItem> items) {
  const auto request = request_of(visit, std::move(items));
  const auto office = visit.desk.office();
  if (office) {
    const std::string camera = visit.cookie + " " + std::string{visit.asked("camera").substr(0, 40)};
    return visit.desk.kept<ChairCameras>().see(camera, *office, request, std::chrono::steady_clock::now());
  }
  std::vector<InView> in_view;
  const auto replies = app::check_without_record(state_of(office.failure()), request);
  for (std::size_t i = 0; i < request.items.size() && i < replies.size(); ++i) {
    in_view.push_back({request.items[i].corners.value_or(label::Quad{}), request.items[i].text, replies[i], true});
  }
  return in_view;
}

}  // namespace

Response check_page(Visit& visit) {
  const auto office = visit.desk.office();
  View view{{"title", visit.word("page.check.title")},
            {"at", "/check"},
            {"frame_token", visit.desk.seal().token(visit.cookie, "/check/frame")},
            {"by_text", visit.form_for("/check/text")}};
  if (!office) view["trouble"] = visit.failure_view(office.failure());
  return visit.page("pages/check", std::move(view));
}

Response check_frame(Visit& visit) {
  const auto begun = std::chrono::steady_clock::now();
  const auto seeing = visit.desk.seeing();
  if (!seeing) return visit.failed(seeing.failure());
  const std::string& body = visit.request.body;
  const auto picture = (*seeing)->pictures->decode({reinterpret_cast<const std::uint8_t*>(body.data()), body.size()});
  if (!picture) return visit.failed(picture.failure());
  const auto look = (*seeing)->reader->look(picture->view(), kFrameBudget);
  View symbols = View::array();
  for (const InView& each : seen_in(visit, items_of(look.read))) symbols.push_back(in_view_of(visit, each));
  View unread = View::array();
  for (const port::Corners& place : look.unread) {
    View list = View::array();
    for (const port::PixelPoint& p : place) list.push_back({p.x, p.y});
    unread.push_back(list);
  }
  const std::chrono::duration<double, std::milli> taken = std::chrono::steady_clock::now() - begun;
  return visit.json({{"width", picture->width},
                     {"height", picture->height},
                     {"symbols", symbols},
                     {"unread", unread},
                     {"milliseconds", taken.count()}});
}

Response check_text(Visit& visit) {
  const CheckItem item = item_of(visit.field("text").substr(0, port::kLongestLine));
  const auto office = visit.desk.office();
  const auto request = request_of(visit, {item});
  const auto replies = office ? app::check_packages((*office)->ports, request)
                              : app::check_without_record(state_of(office.failure()), request);
  View cards = View::array();
  for (const app::CheckReply& reply : replies) cards.push_back(card_of(visit, reply));
  return visit.json({{"cards", cards}});
}

}  // namespace loadlight::web
