// What checks, watches and audits share: judging the items of one picture together, and writing the checks.
#pragma once

#include <vector>

#include "loadlight/app/check_packages.h"

namespace loadlight::app {

// Every item of the request, in order, within a unit and without writing anything.
std::vector<CheckReply> judge_items(const Ports& ports, const port::Unit& unit, const CheckRequest& request);

// Writes a check for each reply, in a unit of its own. If that fails every reply holds with the record's reason: a check
// that leaves no trace cannot clear anything. What was judged by the copy is laid by.
void record_checks(const Ports& ports, const CheckRequest& request, std::vector<CheckReply>& replies);

// What the event of a check says of its answer.
std::vector<std::pair<std::string, std::string>> check_details(const CheckReply& reply);

}  // namespace loadlight::app
