#include <variant>

#include "loadlight/app/open_package.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/app/shelf_tag.h"
#include "loadlight/core/payload.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr port::ReadBudget kFrameBudget{std::chrono::milliseconds{250}, port::Effort::Quick, 1};
constexpr std::size_t kMostPackages = 500;

Result<View> locations_view(const port::Unit& unit) {
  const auto all = unit.locations().all();
  if (!all) return all.failure();
  View list = View::array();
  for (const core::Location& each : *all) {
    if (!each.retired_on) list.push_back({{"code", each.code}, {"name", each.name}});
  }
  return list;
}

// A package that is to be put away, as a line of the list shows it.
Result<View> package_line(const Visit& visit, const app::Ports& ports, const port::Unit& unit,
                          const std::string& text) {
  const auto packages = app::find_packages(ports, unit, {text});
  if (!packages) return packages.failure();
  const core::Package& package = packages->front();
  if (package.state != core::PackageState::Loaded) {
    return Failure{FailureCode::PackageWrongState,
                   {{"package", package.id.text()}, {"state", code_text(package.state)}},
                   {}};
  }
  const auto contents = unit.contents().find(package.contents);
  if (!contents) return contents.failure();
  const auto reply = app::judge_item(ports, unit, {app::CheckItem::How::TypedId, package.id.text(), std::nullopt});
  View view = outcome_view(visit, reply.verdict.outcome());
  view["package"] = package.id.text();
  view["grouped"] = package.id.grouped();
  view["contents"] = *contents ? (**contents).name : package.contents;
  view["load"] = package.load.text();
  view["location"] = package.location.value_or("");
  return view;
}

std::string count_text(std::size_t count) { return std::to_string(count); }

}  // namespace

Response shelve_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto locations = locations_view(**unit);
  if (!locations) return visit.failed(locations.failure());
  return visit.page("pages/shelve", {{"title", visit.word("page.shelve.title")},
                                     {"at", "/shelf"},
                                     {"locations", *locations},
                                     {"no_locations", locations->empty()},
                                     {"frame_token", visit.desk.seal().token(visit.cookie, "/shelve/frame")},
                                     {"look", visit.form_for("/shelve/look")},
                                     {"shelve", visit.form_for("/shelve")}});
}

Response look_at_shelved(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const std::string text{visit.field("text").substr(0, port::kLongestLine)};
  if (std::holds_alternative<core::ShelfTagText>(core::parse_payload(text))) {
    const auto location = app::location_of(ports, **unit, text);
    if (!location) return visit.failed(location.failure());
    return visit.json({{"location", location->code}, {"name", location->name}});
  }
  const auto line = package_line(visit, ports, **unit, text);
  if (!line) return visit.failed(line.failure());
  return visit.json({{"line", *line}, {"html", visit.piece("parts/shelved", *line).body}});
}

// The texts of our own symbols in a camera's frame; what they name is asked one by one.
Response read_shelved(Visit& visit) {
  const auto seeing = visit.desk.seeing();
  if (!seeing) return visit.failed(seeing.failure());
  const std::string& body = visit.request.body;
  const auto picture = (*seeing)->pictures->decode({reinterpret_cast<const std::uint8_t*>(body.data()), body.size()});
  if (!picture) return visit.failed(picture.failure());
  View texts = View::array();
  for (const auto& sighting : (*seeing)->reader->look(picture->view(), kFrameBudget).read) {
    if (!std::holds_alternative<core::NotOursText>(core::parse_payload(sighting.text))) texts.push_back(sighting.text);
  }
  return visit.json({{"texts", texts}});
}

Response shelve(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto packages = visit.form.values("package");
  if (packages.empty() || packages.size() > kMostPackages) {
    return visit.failed({FailureCode::BadValue, {{"field", "package"}}, {}});
  }
  const std::string location{visit.field("location")};
  const auto shelved = app::shelve_packages((*office)->ports, {visit.operator_code(), packages, location});
  if (!shelved) return visit.failed(shelved.failure());
  return visit.go_to("/shelve", "shelved", {{"count", count_text(shelved->size())}, {"location", location}});
}

}  // namespace loadlight::web
