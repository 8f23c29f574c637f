// Use cases: an incident without all its packages at once, and its packages and earlier Clears a page at a time.
// Memory stays bounded however many there are.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/incidents.h"

namespace loadlight::app {

struct SuspectPlace final {
  std::string location;  // code; empty: none on record
  int packages = 0;
  int unaccounted = 0;  // nobody said yet what became of them
};

struct IncidentStanding final {
  core::Incident incident;
  std::vector<core::StepStatus> steps;
  std::vector<core::Obstacle> to_return;  // what keeps the sterilizer out of service
  std::vector<core::Obstacle> to_close;
  std::vector<core::Load> loads;  // of the range, by run
  int suspects = 0;
  int unaccounted = 0;
  std::vector<SuspectPlace> places;  // by code
};
// IncidentUnknown.
core::Result<IncidentStanding> incident_standing(const Ports& ports, int number);

// Some of many, from number `first` on, counted from 0.
struct PageWish final {
  int first = 0;
  int most = 50;
};

struct SuspectQuery final {
  int incident = 0;
  std::optional<std::string> location;  // code; empty: none on record; nothing: everywhere
  bool unaccounted_only = false;
  PageWish page;
};
struct SuspectPage final {
  std::vector<Suspect> suspects;  // by run, print run and cell
  int total = 0;
};
core::Result<SuspectPage> suspects_of(const Ports& ports, const SuspectQuery& query);

// By id or label's text: NotSuspect outside the range, PackageUnknown.
core::Result<Suspect> find_suspect(const Ports& ports, int incident, const std::string& package);

struct ClearPage final {
  std::vector<EarlierClear> clears;  // by package as above, then time
  int total = 0;
};
core::Result<ClearPage> earlier_clears_of(const Ports& ports, int incident, const PageWish& page);

}  // namespace loadlight::app
