// What checks, watches and openings share while the record cannot be reached.
#pragma once

#include <vector>

#include "loadlight/app/check_packages.h"
#include "loadlight/app/cut_off.h"

namespace loadlight::app {

// Every item of the request, in order, by the copy and by what was done here since.
std::vector<CheckReply> judge_by_copy(const Ports& ports, const StandIn& copy, const CheckRequest& request);

// Lays by a check for each reply that names a package. One that cannot be laid by holds: a check that leaves no trace
// cannot clear anything.
void queue_checks(const Ports& ports, const CheckRequest& request, std::vector<CheckReply>& replies);

// An act of now with a name of its own, about this package.
port::QueuedAct act_to_queue(const Ports& ports, core::EventKind kind, std::string operator_code, std::string package,
                             const FromCopy& from);

}  // namespace loadlight::app
