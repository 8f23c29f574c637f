// What an audit has seen so far, label by label.
#pragma once

#include <cstddef>
#include <deque>
#include <map>
#include <optional>
#include <set>
#include <string>

#include "app/package_lookup.h"
#include "loadlight/app/audit_shelf.h"

namespace loadlight::app {

// One label that a package carries, however often it was seen.
struct SeenLabel final {
  CheckItem item;  // without corners
  std::optional<core::PackageId> id;
  int sightings = 0;
  int first_frame = 0;
  int last_frame = 0;
  std::string first_file;
  port::Corners corners{};  // in its first frame
  std::string seen_at;      // location code

  // What its pictures say against it, once for the whole audit.
  bool old_label = false;                   // another package's label lay on its own
  std::set<std::size_t> in_doubt_beside{};  // labels (indices) of which that could not be told
  bool in_doubt_before = false;             // when the audit was cut off

  CheckReply reply;  // judged last, with what its pictures say
  std::optional<std::string> expected_at;
  std::string written;                        // reasons_written() as the ledger has them
  std::optional<core::Reason> unwritten_for;  // the ledger did not take it

  core::SeenHow how() const;
  // The verdict with everything that speaks against it.
  core::Verdict verdict() const;
  AuditedPackage audited() const;
};

// In the order in which they were first seen; addresses and indices stay.
class SeenLabels final {
 public:
  // The label of this text; a new one has no sightings yet.
  SeenLabel& of_text(const std::string& text);
  // The package that the record told, likewise.
  SeenLabel& of_match(const core::PackageId& id);
  bool has(const core::PackageId& id) const;  // by an authentic label, judged, or told by the record

  std::size_t index_of(const SeenLabel& label) const;
  std::deque<SeenLabel>& all() { return labels_; }
  const std::deque<SeenLabel>& all() const { return labels_; }

 private:
  SeenLabel& add(const std::string& key, CheckItem item);

  std::deque<SeenLabel> labels_;
  std::map<std::string, std::size_t> by_key_;  // texts, and ids of those that were matched
};

// Judges a label by the record as it stands in the unit.
void judge_label(const Ports& ports, const port::Unit& unit, SeenLabel& label);
// Without a record.
void judge_label_without(const core::Failure& why, SeenLabel& label);

}  // namespace loadlight::app
