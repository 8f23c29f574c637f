// How incidents and their packages look: one JSON object a line, and lines for a person.
#pragma once

#include <string>

#include "cli/context.h"
#include "loadlight/app/incidents.h"

namespace loadlight::cli {

// A term's text.
template <class E>
std::string code(E value) {
  return std::string{core::to_text(value)};
}

Json incident_json(const core::Incident& incident);
std::string incident_line(const Context& context, const core::Incident& incident);
Json suspect_json(const app::Suspect& suspect);
std::string suspect_line(const Context& context, const app::Suspect& suspect);
// Details without those that say nothing, so that the asides about them vanish.
core::Details said(core::Details details);

}  // namespace loadlight::cli
