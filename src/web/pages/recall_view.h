// What the pages about incidents share.
#pragma once

#include <optional>

#include "loadlight/app/suspect_pages.h"
#include "web/visit.h"

namespace loadlight::web {

inline constexpr int kSuspectsOnPage = 40;

// The number in the address: nothing when it is none.
std::optional<int> incident_of(const Visit& visit);
// "/recall/3".
std::string recall_path(int incident);
// A whole number of the query from 0 on; 0 when it is none.
int asked_number(const Visit& visit, std::string_view name);

// One line: number, cause, load, state, how much is called back, when it was opened.
View incident_view(const Visit& visit, const port::Zone& zone, const core::Incident& incident);
// The steps in working order, with a form for each that may be recorded now.
View steps_view(const Visit& visit, const app::IncidentStanding& standing);
View obstacles_view(const Visit& visit, const std::vector<core::Obstacle>& obstacles);
// A package of the range with the form that accounts for it; `back` is the query of the page it stands on.
// Visits are shown to those who are signed in.
View suspect_view(const Visit& visit, const core::Incident& incident, const app::Suspect& suspect,
                  const std::string& back);
// "before" and "after": the addresses of the pages before and after this one, empty where there is none.
void add_paging(View& view, const std::string& address, const app::PageWish& page, int total);

}  // namespace loadlight::web
