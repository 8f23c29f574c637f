// Whether a verdict that a page still shows is what would be said now.
#include "web/package_view.h"
#include "web/pages/check_items.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Reason;
using core::Verdict;

Verdict verdict_now(const Visit& visit, const app::CheckItem& item) {
  const auto office = visit.desk.office();
  const auto without = [&](const core::Failure& failure) {
    return app::check_without_record(state_of(failure), request_of(visit, {item})).front().verdict;
  };
  if (!office) return without(office.failure());
  const app::Ports& ports = (*office)->ports;
  const auto reading = app::begin_reading(ports);
  return reading ? app::judge_item(ports, *reading, item).verdict : without(reading.failure());
}

}  // namespace

// What lay beside the package when it was seen cannot be asked again, so it is held against it as before.
// Nothing is written: this answer takes a word away, it never gives one.
Response check_again(Visit& visit) {
  Verdict verdict = verdict_now(visit, item_of(visit.asked("read").substr(0, port::kLongestLine)));
  const std::string_view shown = visit.asked("reasons");
  const std::string old_label = code_text(Reason::OldLabelInView);
  if (shown.find(old_label) != std::string_view::npos) verdict = verdict.with(Reason::OldLabelInView);
  const bool same = code_text(verdict.outcome()) == visit.asked("outcome") && reason_codes(verdict) == shown;
  return visit.json({{"same", same}});
}

}  // namespace loadlight::web
