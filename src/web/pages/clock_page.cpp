#include "loadlight/app/accept_clock.h"
#include "web/form_values.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response clock_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto clock = app::show_clock((*office)->ports);
  if (!clock) return visit.failed(clock.failure());
  const port::Zone& zone = *(*office)->zone;
  return visit.page("pages/clock", {{"title", visit.word("page.set-up.clock")},
                                    {"at", "/set-up"},
                                    {"now", time_text(visit, zone, clock->now)},
                                    {"newest", clock->newest ? time_text(visit, zone, *clock->newest) : ""},
                                    {"zone", zone.name()},
                                    {"behind", clock->behind},
                                    {"impossible", clock->impossible},
                                    {"accept", visit.form_for("/set-up/clock")}});
}

Response accept_clock(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto accepted = app::accept_clock((*office)->ports, {visit.operator_code(), text_of(visit, "why")});
  if (!accepted) return visit.failed(accepted.failure());
  return visit.go_to("/set-up/clock", "clock-accepted");
}

}  // namespace loadlight::web
