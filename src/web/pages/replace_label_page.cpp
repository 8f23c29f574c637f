// A new label in place of one whose words must change.
#include "loadlight/app/change_labels.h"
#include "loadlight/app/pack_choices.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/app/paper_in_hand.h"
#include "web/held_papers.h"
#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/print_order.h"

namespace loadlight::web {
namespace {

using core::Result;

Result<core::Package> package_of(const Visit& visit, const app::Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto found = app::find_packages(ports, **unit, {std::string{visit.parameter("package")}});
  if (!found) return found.failure();
  return found->front();
}

View choice_of(const std::string& value, const std::string& text, const std::string& now) {
  return {{"value", value}, {"text", text}, {"chosen", value == now}};
}

// The loads that take labels, and the one that the label names now.
View loads_of(const app::PackChoices& choices, const std::string& now) {
  View list = View::array();
  bool has_now = false;
  for (const app::SterilizerChoice& each : choices.sterilizers) {
    for (const app::LoadChoice& load : each.loads) {
      list.push_back(choice_of(load.name.text(), load.name.text() + " (" + each.sterilizer.name + ")", now));
      has_now = has_now || load.name.text() == now;
    }
  }
  if (!has_now) list.insert(list.begin(), choice_of(now, now, now));
  return list;
}

View contents_of(const app::PackChoices& choices, const std::string& now) {
  View list = View::array();
  for (const auto& each : choices.contents) list.push_back(choice_of(each.contents.code, each.contents.name, now));
  return list;
}

View kinds_of(const app::PackChoices& choices, const std::string& now) {
  View list = View::array();
  for (const auto& kind : choices.kinds) list.push_back(choice_of(kind.code, kind.name, now));
  return list;
}

Result<app::ReplaceRequest> request_of(const Visit& visit) {
  const auto load = core::LoadName::parse(visit.field("load"));
  if (!load) {
    return core::Failure{core::FailureCode::BadLoadName,
                         {{"given", std::string{visit.field("load").substr(0, 60)}}},
                         {}};
  }
  auto paper = paper_of(visit.form);
  if (!paper) return paper.failure();
  app::ReplaceRequest request;
  request.operator_code = visit.operator_code();
  request.package = std::string{visit.parameter("package")};
  request.load = *load;
  request.contents = std::string{visit.field("contents")};
  request.kind = std::string{visit.field("kind")};
  request.paper = std::move(*paper);
  return request;
}

}  // namespace

Response replace_label_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto package = package_of(visit, (*office)->ports);
  if (!package) return visit.failed(package.failure());
  const auto choices = app::pack_choices((*office)->ports);
  if (!choices) return visit.failed(choices.failure());
  const auto asked_load = core::LoadName::parse(visit.asked("load"));  // that the package is to go into
  View stocks = View::array();
  for (const auto& stock : choices->stocks) stocks.push_back(choice_of(stock.code, stock.name, ""));
  return visit.page("pages/replace-label",
                    {{"title", visit.word("page.replace.title", {{"package", package->id.grouped()}})},
                     {"at", "/pack"},
                     {"state", visit.word("detail.state." + code_text(package->state))},
                     {"loads", loads_of(*choices, asked_load.value_or(package->load).text())},
                     {"contents", contents_of(*choices, package->contents)},
                     {"kinds", kinds_of(*choices, package->kind)},
                     {"stocks", stocks},
                     {"run", "/pack/runs/" + std::to_string(package->print_run)},
                     {"replacing", visit.form_for(visit.request.head.path)}});
}

Response replace_label(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const auto request = request_of(visit);
  if (!request) return visit.failed(request.failure());
  app::PaperInHand paper{(*shop)->shop};
  const auto reply = app::replace_label((*office)->ports, paper.shop(), *request);
  if (!reply) return visit.failed(reply.failure());
  const std::string run = std::to_string(reply->run.number);
  const std::string key = visit.desk.kept<HeldPapers>().keep({"labels-" + run + ".pdf", paper.pdf()});
  return visit.go_to("/pack/runs/" + run + "?paper=" + key, "label-replaced",
                     {{"package", reply->packages.front().id.grouped()}});
}

}  // namespace loadlight::web
