#include "web/pages/ledger_state.h"

#include "web/ledger_check.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

constexpr std::size_t kMostListed = 50;

View progress_view(const Visit& visit, const port::VerifyProgress& progress) {
  const std::string key = progress.all == 0     ? "page.ledger.begins"
                          : progress.in_tables ? "page.ledger.tables"
                                               : "page.ledger.walk";
  return {{"text", visit.word(key, {{"done", std::to_string(progress.done)}, {"all", std::to_string(progress.all)}})},
          {"done", progress.done},
          {"all", progress.all == 0 ? 1 : progress.all}};
}

View found_view(const Visit& visit, const LedgerCheck::State& state, const port::Zone& zone) {
  View view{{"at", time_text(visit, zone, *state.ended_at)}};
  if (state.failure) {
    view["failure"] = visit.failure_view(*state.failure);
    return view;
  }
  const auto& [alterations, notes] = state.verdict;
  view["whole"] = alterations.empty();
  view["altered"] = !alterations.empty();
  View list = View::array();
  for (const port::Alteration& found : alterations) {
    if (list.size() == kMostListed) break;
    list.push_back(visit.word("line.alteration",
                              {{"where", found.where}, {"what", visit.word("alteration." + found.what)}}));
  }
  view["alterations"] = list;
  const auto beyond = alterations.size() - list.size();
  view["beyond"] = beyond == 0 ? "" : visit.word("page.ledger.beyond", {{"count", std::to_string(beyond)}});
  view["notes"] = View::array();
  for (const core::Sentence& note : notes) view["notes"].push_back(visit.word(note.key, note.details));
  return view;
}

}  // namespace

View ledger_view(const Visit& visit, const app::OpenOffice& office) {
  const auto state = visit.desk.kept<LedgerCheck>().state();
  View view{{"running", state.running},
            {"may_begin", !state.running},
            {"signed_in", visit.who.has_value()},
            {"never", !state.ended_at && !state.running}};
  if (state.running) view["progress"] = progress_view(visit, state.progress);
  if (state.ended_at) view["verified"] = found_view(visit, state, *office.zone);
  view["begin"] = visit.form_for("/records/ledger/verify");
  view["stop"] = visit.form_for("/records/ledger/stop");
  return view;
}

Response ledger_state(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  return visit.piece("parts/ledger", {{"ledger", ledger_view(visit, **office)}});
}

Response begin_ledger_check(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  visit.desk.kept<LedgerCheck>().begin(*office, visit.desk.world().open_checkpoints(visit.desk.office_folder()));
  return visit.go_to("/records", "ledger-check-begun");
}

Response stop_ledger_check(Visit& visit) {
  visit.desk.kept<LedgerCheck>().stop();
  return visit.go_to("/records", "ledger-check-stopped");
}

}  // namespace loadlight::web
