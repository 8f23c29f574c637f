// An audit in the ledger: that it began, what it saw, that it ended. Events alone; no table knows of audits.
//
//   audit-begun    subject location   audit, source
//   packages-seen  subject audit      frame (the last looked at), location (where that was), and, one event a
//                                     label: how, label (its text) or package (its id), outcome, reasons,
//                                     first_frame, file, sightings, corners
//   audit-ended    subject audit      frames, packages, not_seen, unreadable
//
// A text that is no package's label may be anything, a person's data included: of a chart copy or a label of
// a later form no more is kept than its beginning.
#pragma once

#include <string>
#include <vector>

#include "app/seen_labels.h"

namespace loadlight::app {

class AuditLedger final {
 public:
  // Begins one, or finds the newest of this location and source that did not end.
  static core::Result<AuditLedger> open(const Ports& ports, const AuditRequest& request);

  const std::string& name() const { return name_; }
  core::Instant begun_at() const { return begun_at_; }
  int last_frame() const { return last_frame_; }                      // that was looked at before; 0: none
  const std::string& last_place() const { return last_place_; }       // location code
  const std::vector<SeenLabel>& earlier() const { return earlier_; }  // seen before, to be judged anew
  const std::vector<std::string>& places() const { return places_; }  // swept before, location codes

  // Writes an event for each label whose verdict differs from the one written, in one unit. If that fails
  // they hold with the record's reason.
  core::Result<void> write(const std::vector<SeenLabel*>& labels, int frame, const std::string& place);
  // How far it came, without a label.
  core::Result<void> write_progress(int frame, const std::string& place);
  core::Result<void> write_end(const core::Details& totals);

 private:
  AuditLedger(const Ports& ports, const AuditRequest& request)
      : ports_(&ports), operator_code_(request.operator_code), last_place_(request.location) {}

  core::Result<void> begin(const AuditRequest& request, const std::string& source);
  core::Result<void> find(const AuditRequest& request, const std::string& source);
  core::Result<void> load(const port::Unit& unit);
  void remember(const port::PastEvent& event);
  core::Result<void> write_events(core::EventKind kind, const std::vector<core::Details>& events) const;
  core::Result<void> write_events_once(core::EventKind kind, const std::vector<core::Details>& events) const;

  const Ports* ports_;
  std::string operator_code_;
  std::string name_;
  core::Instant begun_at_{};
  int last_frame_ = 0;
  std::string last_place_;
  std::vector<SeenLabel> earlier_;
  std::vector<std::string> places_;
};

}  // namespace loadlight::app
