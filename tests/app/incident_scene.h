// Steps that the tests about incidents, biological indicators and retests share.
#pragma once

#include <string>
#include <vector>

#include "app/office_at_work.h"
#include "loadlight/app/incidents.h"
#include "loadlight/app/service_sterilizer.h"

namespace loadlight::tests {

core::Result<app::BiologicalReply> grow(OfficeAtWork& office, const core::LoadName& load);
core::Result<app::BiologicalReply> stay_clear(OfficeAtWork& office, const core::LoadName& load);

// One released package in each of these loads, in this order of running.
std::vector<core::Package> released_in(OfficeAtWork& office, const std::vector<int>& numbers,
                                       const std::string& contents = "EXAM");

// An empty retest of S1 with evidence in order, and what its indicator showed.
core::LoadName retest(OfficeAtWork& office, core::BiologicalTest result);

// The failure's code or "ok"; by the lead.
std::string step(OfficeAtWork& office, const std::string& step, const std::string& finding, int incident = 1);
std::string account(OfficeAtWork& office, const core::Package& package, core::Disposition disposition,
                    const std::string& why = "");
std::string return_s1(OfficeAtWork& office);
std::string close(OfficeAtWork& office, int incident = 1);
app::IncidentView view(OfficeAtWork& office, int incident = 1);
bool is_in_service(OfficeAtWork& office, const std::string& sterilizer);

}  // namespace loadlight::tests
