// A load's steps: started, ended.
#include "loadlight/app/load_life.h"
#include "web/form_values.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

// The person confirmed what was on the screen: what has come or gone since was not counted.
Result<void> check_count(const Visit& visit, const app::Ports& ports, const core::LoadName& load) {
  const auto seen = whole_of(visit, "count");
  if (!seen) return seen.failure();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto packages = (*unit)->packages().of_load(load);
  if (!packages) return packages.failure();
  int aboard = 0;
  for (const core::Package& package : *packages)
    aboard += package.state == core::PackageState::Loaded ? 1 : 0;
  if (aboard == *seen) return {};
  return Failure{FailureCode::BadValue,
                 {{"field", visit.word("page.load.counted-field")},
                  {"given", std::to_string(*seen)},
                  {"what", visit.word("page.load.counted-other", {{"count", std::to_string(aboard)}})}},
                 {}};
}

}  // namespace

Response start_load_here(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  if (const auto ok = check_count(visit, (*office)->ports, *load); !ok) return visit.failed(ok.failure());
  const auto reply = app::start_load((*office)->ports, {visit.operator_code(), *load});
  if (!reply) return visit.failed(reply.failure());
  const bool missing = reply->daily_test == core::DailyTest::Missing;
  return visit.go_to("/loads/" + load->text(), missing ? "load-started-untested" : "load-started",
                     {{"load", load->text()}, {"sterilizer", load->sterilizer}});
}

Response finish_load_here(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const auto counter = whole_if_any(visit, "counter");
  if (!counter) return visit.failed(counter.failure());
  if (*counter && (**counter < 1 || **counter > 999999999)) {
    return visit.failed(bad_field("counter", text_of(visit, "counter")));
  }
  const std::string why = text_of(visit, "aborted");
  if (visit.field("how") == "aborted" && why.empty()) {
    return visit.failed({FailureCode::ReasonMissing, {{"field", "aborted"}}, {}});
  }
  const auto reply = app::finish_load((*office)->ports, {visit.operator_code(), *load, why, *counter});
  if (!reply) return visit.failed(reply.failure());
  const core::Details details{{"load", load->text()}, {"count", std::to_string(reply->counter_gap)}};
  const std::string_view done = !why.empty()             ? "load-aborted"
                                : reply->counter_gap > 0 ? "load-finished-gap"
                                                         : "load-finished";
  return visit.go_to("/loads/" + load->text(), done, details);
}

}  // namespace loadlight::web
