// Steps that several use cases take with a load, within an act that they commit themselves.
#pragma once

#include "loadlight/app/act.h"
#include "loadlight/core/transitions.h"

namespace loadlight::app {

// LoadUnknown when no such number was given out.
core::Result<core::Load> find_load(const port::Unit& unit, const core::LoadName& name);

// LoadWrongState, naming the load and where it stands.
core::Failure wrong_state(const core::Load& load);

// The load after a move; LoadWrongState when the table does not allow it.
core::Result<core::Load> moved(core::Load load, core::LoadMove move);

// Makes sure that `name` may carry new labels, reserving it when it is the next number of its sequence.
// The reserved load is written by the caller: it stands in the reply with `is_new`.
//
// Where type N items are packed after their program (the profile says so), a load of today that has ended
// and was not refused takes labels too: its packages are in it from the beginning.
struct NumberForLabels final {
  core::Load load;
  bool is_new = false;
  bool packed_after = false;
};
// Whether a load is one of those.
core::Result<bool> takes_late_labels(const port::Unit& unit, const core::Office& office, core::CivilDate today,
                                     const core::Load& load);
core::Result<NumberForLabels> number_for_labels(const Act& act, const core::LoadName& name);

// CodeUnknown or CodeRetired.
core::Result<core::Sterilizer> known_sterilizer(const port::Unit& unit, const std::string& code);
// And SterilizerOutOfService.
core::Result<core::Sterilizer> usable_sterilizer(const port::Unit& unit, const std::string& code);

// Packages that are in this load now.
core::Result<std::vector<core::Package>> packages_aboard(const port::Unit& unit, const core::LoadName& name);

// Writes one event and commits; yields the load.
core::Result<core::Load> write_load(const Act& act, core::EventKind kind, core::Load load,
                                    std::vector<core::Record> more = {},
                                    std::vector<std::pair<std::string, std::string>> details = {});

}  // namespace loadlight::app
