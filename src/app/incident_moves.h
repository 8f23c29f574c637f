// Steps that several use cases take with an incident, within an act that they commit themselves.
#pragma once

#include <optional>

#include "loadlight/app/act.h"
#include "loadlight/core/incident_progress.h"

namespace loadlight::app {

// IncidentUnknown, and for `find_open_incident` IncidentEnded.
core::Result<core::Incident> find_incident(const port::Unit& unit, int number);
core::Result<core::Incident> find_open_incident(const port::Unit& unit, int number);

// Opens an incident on a load: an indicator inside a package doubts that load alone; a biological one
// doubts the whole suspect range, takes the sterilizer out of service and recalls what the procedure
// recalls at once. An open incident of the same cause and load is gone on with instead.
core::Result<core::Incident> open_incident(const Act& act, const core::Load& load, core::IncidentCause cause,
                                           std::string note);

// One on a load that is not open yet and has no range; for whoever writes it.
core::Result<core::Incident> new_incident(const Act& act, const core::Load& load, core::IncidentCause cause,
                                          std::string note);

// What was recorded about an incident, as the rules of its procedure see it.
core::Result<core::IncidentFacts> facts_of(const port::Unit& unit, const core::Incident& incident,
                                           core::Instant now);

// Recalls whatever the procedure now asks beyond what is recalled, and writes the incident if that changed
// it.
core::Result<core::Incident> recall_by_procedure(const Act& act, core::Incident incident);

// After new evidence for a retest. Nothing when the incident has ended.
core::Result<std::optional<core::Incident>> bear_on_incident(const Act& act, int number);

// Loads of the suspect range that were to hold packages, by run.
core::Result<std::vector<core::Load>> suspect_loads(const port::Unit& unit, const core::Incident& incident);

// Calls back every load of the range that can be called back, one event a load.
core::Result<void> recall_loads(const Act& act, const core::Incident& incident);

// What keeps something from going on, for a failure's list.
core::Sentence sentence_for(const core::Obstacle& obstacle);

port::RunRange runs_of(const core::Incident& incident);

}  // namespace loadlight::app
