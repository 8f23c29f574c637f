// What happened to a package, as its page tells it.
#pragma once

#include <map>
#include <string>

#include "loadlight/app/package_history.h"
#include "web/visit.h"

namespace loadlight::web {

// The names of operators by their codes.
using People = std::map<std::string, std::string, std::less<>>;
core::Result<People> people_of(const port::Unit& unit);
// "Maren Brooks (MB)"; the code alone for somebody whom the record does not name; empty for nobody.
std::string person_text(const People& people, const std::string& code);

// The newest event first, `limit` of them: a list of "what", "who", "when", "lines" (a list of texts), "kind" (the
// event's code), "of_load" (it happened to the whole load) and "outcome" (of a check; else empty).
View history_view(const Visit& visit, const port::Zone& zone, const People& people,
                  const app::PackageHistory& history, std::size_t limit);

}  // namespace loadlight::web
