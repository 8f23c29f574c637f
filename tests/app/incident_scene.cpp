#include "app/incident_scene.h"

namespace loadlight::tests {

using core::BiologicalControl;
using core::BiologicalTest;

core::Result<app::BiologicalReply> grow(OfficeAtWork& office, const core::LoadName& load) {
  return office.biological(load, BiologicalTest::Growth, BiologicalControl::Growth);
}

core::Result<app::BiologicalReply> stay_clear(OfficeAtWork& office, const core::LoadName& load) {
  return office.biological(load, BiologicalTest::NoGrowth, BiologicalControl::Growth);
}

std::vector<core::Package> released_in(OfficeAtWork& office, const std::vector<int>& numbers,
                                       const std::string& contents) {
  std::vector<core::Package> packages;
  for (int number : numbers) packages.push_back(office.released_package({"S1", number}, contents));
  return packages;
}

core::LoadName retest(OfficeAtWork& office, BiologicalTest result) {
  const auto opened = must(
      app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", core::LoadPurpose::Retest, {}, {}}));
  must(app::start_load(office.ports(), {"CD", opened.name}));
  office.finish(opened.name);
  office.give_evidence(opened.name);
  must(office.biological(opened.name, result, BiologicalControl::Growth));
  return opened.name;
}

std::string step(OfficeAtWork& office, const std::string& step, const std::string& finding, int incident) {
  return code_of(app::do_step(office.ports(), {"AB", incident, step, finding, ""}));
}

std::string account(OfficeAtWork& office, const core::Package& package, core::Disposition disposition,
                    const std::string& why) {
  return code_of(app::account_for(office.ports(), {"CD", 1, package.id.text(), disposition, why}));
}

std::string return_s1(OfficeAtWork& office) {
  return code_of(app::return_to_service(office.ports(), {"AB", "S1", "cleared"}));
}

std::string close(OfficeAtWork& office, int incident) {
  return code_of(app::close_incident(office.ports(), {"AB", incident, ""}));
}

app::IncidentView view(OfficeAtWork& office, int incident) {
  return must(app::show_incident(office.ports(), incident));
}

bool is_in_service(OfficeAtWork& office, const std::string& sterilizer) {
  return must(must(office.store.begin(port::Access::Read))->sterilizers().find(sterilizer))->in_service;
}

}  // namespace loadlight::tests
