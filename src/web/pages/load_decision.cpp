// A load's decision, and the way back from it.
#include "loadlight/app/release_load.h"
#include "loadlight/app/sign_in.h"
#include "web/form_values.h"
#include "web/load_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::LoadState;
using core::Result;

// The load stays where it was: every reason, in words.
Response not_released(const Visit& visit, const app::LoadReply& reply) {
  const core::Details details{{"load", reply.load.name.text()}};
  View items = View::array();
  for (const View& reason : load_reasons(visit, reply.verdict)) {
    items.push_back(reason.value("text", "") + " " + reason.value("action", ""));
  }
  View failure{{"error", "not-released"},
               {"text", visit.word("load.not-released.text", details)},
               {"action", visit.word("load.not-released.action", details)},
               {"items", items}};
  constexpr int kConflict = 409;
  if (visit.wants_json()) return visit.json(failure, kConflict);
  return visit.page("pages/failure", {{"title", visit.word("page.failure.title")}, {"failure", failure}},
                    kConflict);
}

Response decided(const Visit& visit, const app::LoadReply& reply) {
  const std::string load = reply.load.name.text();
  const std::string path = "/loads/" + load;
  switch (reply.load.state) {
    case LoadState::Released:
      return visit.go_to(path, "load-released", {{"load", load}});
    case LoadState::Quarantined:
    case LoadState::Failed:
      return visit.go_to(path);  // the page itself says so, in large
    default:
      return not_released(visit, reply);
  }
}

// The second person of an emergency stands here too and gives a PIN. Whoever may not be the second at all is for
// the use case to refuse.
Result<void> second_is_here(const Visit& visit, const app::Ports& ports) {
  const std::string second = text_of(visit, "second");
  if (second.empty() || second == visit.operator_code()) return {};
  const auto who = app::sign_in_by_pin(ports, visit.desk.pins(), second, visit.field("second-pin"));
  if (!who) return who.failure();
  return {};
}

using TakeBack = Result<app::TakeBackReply> (*)(const app::Ports&, const app::TakeBackRequest&);

// What was opened already is counted: the page of the load lists it.
Response taken_back(Visit& visit, TakeBack take_back, std::string_view what) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const auto reply = take_back((*office)->ports, {visit.operator_code(), *load, text_of(visit, "why")});
  if (!reply) return visit.failed(reply.failure());
  return visit.go_to("/loads/" + load->text(), what,
                     {{"load", load->text()}, {"count", std::to_string(reply->opened_already.size())}});
}

}  // namespace

Response release_load_here(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const std::string emergency = text_of(visit, "emergency");
  if (visit.field("how") == "emergency" && emergency.empty()) {
    return visit.failed({core::FailureCode::ReasonMissing, {{"field", "emergency"}}, {}});
  }
  if (!emergency.empty()) {
    const auto here = second_is_here(visit, (*office)->ports);
    if (!here) return visit.failed(here.failure());
  }
  const auto reply = app::release_load((*office)->ports,
                                       {visit.operator_code(), *load, emergency, text_of(visit, "second")});
  return reply ? decided(visit, *reply) : visit.failed(reply.failure());
}

Response revoke_load_here(Visit& visit) {
  return taken_back(visit, app::revoke_release, "load-revoked");
}

Response recall_load_here(Visit& visit) {
  return taken_back(visit, app::recall_load, "load-recalled");
}

}  // namespace loadlight::web
