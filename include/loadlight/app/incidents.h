// Use cases: incidents, from their steps to their end, and the recall that goes with them.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/incident_progress.h"

namespace loadlight::app {

// A package of an incident's suspect range, and what became of it.
struct Suspect final {
  core::Package package;
  std::string contents_name;
  // Opened and withdrawn packages account for themselves; the others need a person to say. None: on the
  // shelf, or wherever it was last seen.
  std::optional<core::Disposition> disposition;
  std::string why;
  bool called_back = false;  // its load or itself
};

// A Clear that was given before the incident was opened: late results change verdicts already acted on.
struct EarlierClear final {
  core::PackageId package;
  core::Instant at{};
  std::string operator_code;
};

struct IncidentView final {
  core::Incident incident;
  std::vector<core::StepStatus> steps;
  std::vector<core::Obstacle> to_return;  // what keeps the sterilizer out of service
  std::vector<core::Obstacle> to_close;
  std::vector<core::Load> loads;  // of the range, by run
  std::vector<Suspect> suspects;
  std::vector<EarlierClear> earlier_clears;
};

core::Result<std::vector<core::Incident>> list_incidents(const Ports& ports);
core::Result<IncidentView> show_incident(const Ports& ports, int number);

// Every suspect package by run, print run and cell; memory stays bounded but for what was accounted for.
core::Result<core::Incident> each_suspect(const Ports& ports, int number,
                                          const std::function<void(const Suspect&)>& visit);

struct StepRequest final {
  std::string operator_code;
  int incident = 0;
  std::string step;
  std::string finding;
  std::string note;
};
// BadValue for a step or finding that the procedure does not have, StepNotDue for one that waits or is
// for evidence alone, LeadRequired for decisions.
core::Result<core::Incident> do_step(const Ports& ports, const StepRequest& request);

struct AccountRequest final {
  std::string operator_code;
  int incident = 0;
  std::string package;  // id or label's text
  core::Disposition disposition = core::Disposition::Withdrawn;
  std::string why;  // needed for a package that was not found
};
// NotSuspect outside the range. Withdrawn and reprocessed take the package out of use; opened is refused
// with PackageWrongState unless its opening is on record.
core::Result<Suspect> account_for(const Ports& ports, const AccountRequest& request);

struct NarrowRequest final {
  std::string operator_code;  // a lead
  int incident = 0;
  core::LoadName first;  // both included, and both within the range as it stands
  core::LoadName last;
  std::string why;
};
// BadValue for a wider range; nothing that was called back returns.
core::Result<core::Incident> narrow_range(const Ports& ports, const NarrowRequest& request);

struct CloseRequest final {
  std::string operator_code;  // a lead
  int incident = 0;
  std::string note;
};
// IncidentUnfinished lists everything that keeps it open.
core::Result<core::Incident> close_incident(const Ports& ports, const CloseRequest& request);

}  // namespace loadlight::app
