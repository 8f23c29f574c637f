#include "app/audit_scene.h"

#include <algorithm>

#include "loadlight/app/office_tables.h"

namespace loadlight::tests {

AuditScene::AuditScene() {
  must(app::import_entries(office.ports(), "AB", app::OfficeTable::Locations,
                           "code,name\nSHELF2,Second shelf\n"));
}

std::vector<core::Package> AuditScene::shelved(int count, const std::string& location) {
  const core::LoadName load{"S1", ++loads_};
  auto packages = office.print(load, count);
  office.start(load, packages);
  office.finish(load);
  office.give_evidence(load);
  office.release(load);
  for (core::Package& package : packages) {
    shelve(package, location);
    package = office.now(package);
  }
  std::sort(packages.begin(), packages.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
  return packages;
}

void AuditScene::shelve(const core::Package& package, const std::string& location) {
  must(app::shelve_packages(office.ports(), {"CD", {package.id.text()}, location}));
}

std::string AuditScene::tag(const std::string& location) const {
  const std::string text = core::unsigned_shelf_tag(location);
  return text + office.keyring.mac(text);
}

app::AuditRequest AuditScene::request(bool resume) const {
  app::AuditRequest request;
  request.location = "SHELF1";
  request.operator_code = "CD";
  request.source = "sweep.mp4";
  request.resume = resume;
  request.find_template = office.shop().find_template;
  return request;
}

app::AuditReply AuditScene::audit(const PlayedShelf& shelf, const app::AuditRequest& request) {
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  return audit(reader, frames, request);
}

app::AuditReply AuditScene::audit(PlayedReader& reader, PlayedFrames& frames,
                                  const app::AuditRequest& request) {
  return must(app::audit_shelf(office.ports(), {reader, pictures_, office.encoder}, frames, request));
}

std::vector<port::PastEvent> AuditScene::events(const std::string& subject, core::EventKind kind) {
  const auto unit = must(office.store.begin(port::Access::Read));
  return must(unit->events_about(subject, kind));
}

const app::AuditedPackage& line_of(const app::AuditReply& reply, const core::Package& package) {
  const auto line = std::find_if(reply.packages.begin(), reply.packages.end(),
                                 [&](const auto& one) { return one.reply.package == package.id.text(); });
  if (line == reply.packages.end()) FAIL("no line of " << package.id.text());
  return *line;
}

bool has(const app::AuditedPackage& package, core::Reason reason) {
  return package.reply.verdict.has(reason);
}

}  // namespace loadlight::tests
