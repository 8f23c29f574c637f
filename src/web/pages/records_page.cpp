#include <charconv>

#include "loadlight/app/search_records.h"
#include "web/package_view.h"
#include "web/pages/ledger_state.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using app::FoundBy;
using app::FoundGroup;
using core::CivilDate;
using core::Result;

constexpr std::size_t kLongestText = 100;
constexpr int kFarthestPage = 100'000;

// What is looked for comes in a form that is sent and not in an address: a visit's reference stays out of what a
// browser remembers. Links of our own pages, which hold none, may ask in an address.
std::string_view asked(const Visit& visit, std::string_view name) {
  return visit.request.head.method == Method::Post ? visit.field(name) : visit.asked(name);
}

Result<std::optional<CivilDate>> day_in(const Visit& visit, std::string_view name) {
  const std::string given{asked(visit, name)};
  if (given.empty()) return std::optional<CivilDate>{};
  const auto day = CivilDate::parse_iso(given);
  if (day) return std::optional{*day};
  return core::Failure{core::FailureCode::BadDate, {{"given", given.substr(0, 40)}}, {}};
}

int skip_in(const Visit& visit) {
  const auto given = asked(visit, "skip");
  int skip = 0;
  std::from_chars(given.data(), given.data() + given.size(), skip);
  return skip < 0 || skip > kFarthestPage ? 0 : skip;
}

Result<app::RecordsRequest> request_of(const Visit& visit) {
  const auto first = day_in(visit, "from");
  if (!first) return first.failure();
  const auto last = day_in(visit, "to");
  if (!last) return last.failure();
  app::RecordsRequest request{std::string{asked(visit, "search").substr(0, kLongestText)}, *first, *last, {}, {}, 0};
  request.only = core::parse<FoundBy>(asked(visit, "group"));
  request.only_of = asked(visit, "of");
  request.skip = request.only ? skip_in(visit) : 0;
  return request;
}

// The search as it was asked, as a form that asks it again: of one group from its `skip`th line, or of all.
View form_again(const Visit& visit, const std::string& group = {}, const std::string& of = {}, int skip = 0) {
  return {{"token", visit.desk.seal().token(visit.cookie, "/records")},
          {"search", asked(visit, "search")},
          {"from", asked(visit, "from")},
          {"to", asked(visit, "to")},
          {"group", group},
          {"of", of},
          {"skip", skip}};
}

// Contents' names, each looked up once.
class ContentsNames final {
 public:
  explicit ContentsNames(const port::Unit& unit) : unit_(unit) {}
  std::string of(const std::string& code) {
    const auto known = names_.find(code);
    if (known != names_.end()) return known->second;
    const auto found = unit_.contents().find(code);
    return names_[code] = found && *found ? (**found).name : code;
  }

 private:
  const port::Unit& unit_;
  std::map<std::string, std::string> names_;
};

// What became of it; of one that is neither opened nor taken out, what became of its load.
std::string state_of(const Visit& visit, const port::Unit& unit, const core::Package& package) {
  if (package.state != core::PackageState::Loaded) return visit.word("detail.state." + code_text(package.state));
  if (package.recalled) return visit.word("detail.state.recalled");
  const auto load = unit.loads().find(package.load);
  if (!load || !*load) return visit.word("detail.state.loaded");
  return visit.word("page.records.in-load", {{"state", code_text((**load).state)}});
}

View packages_view(const Visit& visit, const port::Unit& unit, const FoundGroup& group, ContentsNames& names) {
  View list = View::array();
  for (const core::Package& package : group.packages) {
    list.push_back({{"link", "/packages/" + package.id.text()},
                    {"package", package.id.grouped()},
                    {"contents", names.of(package.contents)},
                    {"load", package.load.text()},
                    {"state", state_of(visit, unit, package)},
                    {"day", day_text(visit, package.process_date)},
                    {"visit", package.visit.value_or("")}});
  }
  return list;
}

View loads_view(const Visit& visit, const FoundGroup& group) {
  View list = View::array();
  for (const core::Load& load : group.loads) {
    list.push_back({{"link", "/loads/" + load.name.text()},
                    {"load", load.name.text()},
                    {"state", visit.word("detail.state." + code_text(load.state))},
                    {"day", load.process_date ? day_text(visit, *load.process_date) : ""},
                    {"program", load.program}});
  }
  return list;
}

View group_view(const Visit& visit, const port::Unit& unit, const FoundGroup& group, ContentsNames& names) {
  const std::string code = code_text(group.by);
  View view{{"title", visit.word("page.records.by." + code, {{"name", group.name.empty() ? group.of : group.name},
                                                             {"text", std::string{asked(visit, "search")}}})},
            {"packages", packages_view(visit, unit, group, names)},
            {"loads", loads_view(visit, group)}};
  if (group.more) view["more"] = form_again(visit, code, group.of, group.skip + app::kFoundAtOnce);
  if (group.skip > 0) {
    view["before"] = form_again(visit, code, group.of, std::max(0, group.skip - app::kFoundAtOnce));
    view["place"] = visit.word("page.records.from-place", {{"place", std::to_string(group.skip + 1)}});
  }
  return view;
}

Result<View> found_view(const Visit& visit, const app::Ports& ports) {
  const auto request = request_of(visit);
  if (!request) return request.failure();
  const bool asked = !request->text.empty() || request->first || request->last;
  View view{{"asked", asked}, {"groups", View::array()}};
  if (!asked) return view;
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto reply = app::search_records(ports, **unit, *request);
  if (!reply) return reply.failure();
  ContentsNames names{**unit};
  for (const FoundGroup& group : reply->groups) view["groups"].push_back(group_view(visit, **unit, group, names));
  view["nothing"] = reply->groups.empty();
  view["too_many_names"] = reply->too_many_names;
  if (request->only) view["all"] = form_again(visit);
  return view;
}

Result<View> sterilizers_view(const app::Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto all = (*unit)->sterilizers().all();
  if (!all) return all.failure();
  View list = View::array();
  for (const core::Sterilizer& each : *all) list.push_back({{"code", each.code}, {"name", each.name}});
  return list;
}

}  // namespace

Response records_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto sterilizers = sterilizers_view(ports);
  if (!sterilizers) return visit.failed(sterilizers.failure());
  const core::CivilDate today = ports.zone.local_date(ports.clock.now());
  View view{{"title", visit.word("page.records.title")},
            {"at", "/records"},
            {"find_token", visit.desk.seal().token(visit.cookie, "/records")},
            {"search", asked(visit, "search").substr(0, kLongestText)},
            {"from", asked(visit, "from").substr(0, kLongestText)},
            {"to", asked(visit, "to").substr(0, kLongestText)},
            {"sterilizers", *sterilizers},
            {"period_from", today.plus_months(-1).iso()},
            {"period_to", today.iso()},
            {"ledger", ledger_view(visit, **office)}};
  auto found = found_view(visit, ports);
  if (found) {
    view["found"] = std::move(*found);
  } else {
    view["trouble"] = visit.failure_view(found.failure());
  }
  return visit.page("pages/records", std::move(view), found ? 200 : status_of(found.failure()));
}

}  // namespace loadlight::web
