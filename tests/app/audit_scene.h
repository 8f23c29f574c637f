// An office with packages put away, and audits of its shelf.
#pragma once

#include <string>
#include <vector>

#include "app/office_at_work.h"
#include "app/sweep_fakes.h"
#include "loadlight/app/audit_shelf.h"

namespace loadlight::tests {

// Its shelf is SHELF1, with a second one, SHELF2, beside it.
class AuditScene final {
 public:
  AuditScene();

  // Released packages of one load, put away there; in the order of the record.
  std::vector<core::Package> shelved(int count, const std::string& location = "SHELF1");
  void shelve(const core::Package& package, const std::string& location);
  std::string tag(const std::string& location) const;

  app::AuditRequest request(bool resume = false) const;
  app::AuditReply audit(const PlayedShelf& shelf) { return audit(shelf, request()); }
  app::AuditReply audit(const PlayedShelf& shelf, const app::AuditRequest& request);
  app::AuditReply audit(PlayedReader& reader, PlayedFrames& frames, const app::AuditRequest& request);

  std::vector<port::PastEvent> events(const std::string& subject, core::EventKind kind);

  OfficeAtWork office;

 private:
  PlainPictures pictures_;
  int loads_ = 0;
};

const app::AuditedPackage& line_of(const app::AuditReply& reply, const core::Package& package);
bool has(const app::AuditedPackage& package, core::Reason reason);

}  // namespace loadlight::tests
