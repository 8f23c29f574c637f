#include "web/printer_view.h"

#include <algorithm>

#include "web/package_view.h"

namespace loadlight::web {
namespace {

// The troubles in words; for what the printer itself refuses to do, a line of its own.
View troubles_of(const Visit& visit, const port::PrinterState& state) {
  View list = View::array();
  for (const port::PrinterTrouble& trouble : state.troubles) {
    list.push_back({{"code", code_text(trouble.kind)},
                    {"text", visit.word("printer.trouble." + code_text(trouble.kind),
                                        {{"keyword", trouble.keyword}})},
                    {"warning", trouble.warning}});
  }
  if (!state.takes_jobs) {
    list.push_back({{"code", "takes-no-jobs"}, {"text", visit.word("printer.takes-no-jobs")}, {"warning", false}});
  }
  if (!state.takes_pdf) {
    list.push_back({{"code", "takes-no-pdf"}, {"text", visit.word("printer.takes-no-pdf")}, {"warning", false}});
  }
  return list;
}

}  // namespace

View printer_view(const Visit& visit, const port::PrinterState& state) {
  const View troubles = troubles_of(visit, state);
  const bool hindered =
      std::any_of(troubles.begin(), troubles.end(), [](const View& each) { return !each["warning"].get<bool>(); });
  const std::string activity = code_text(state.activity);
  return {{"activity", activity},
          {"text", visit.word("printer.activity." + (hindered ? std::string{"hindered"} : activity))},
          {"troubles", troubles},
          {"any_troubles", !troubles.empty()},
          {"ready", !hindered && state.activity != port::PrinterActivity::Stopped}};
}

View job_view(const Visit& visit, port::JobState state, bool ready) {
  // A printer that is out of labels says of its job that it prints.
  const bool stands_still = state == port::JobState::Printing && !ready;
  return {{"state", code_text(state)},
          {"text", visit.word("printer.job." + code_text(stands_still ? port::JobState::Stopped : state))},
          {"ended", port::has_ended(state)}};
}

}  // namespace loadlight::web
