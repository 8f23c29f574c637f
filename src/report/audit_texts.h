// What an audit's paper and page say in the same words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/report/audit_report.h"
#include "report/audit_lists.h"

namespace loadlight::report {

// Office, audit, location, who and when, as the gaps of its titles.
core::Details audit_details(const AuditFacts& facts);

struct Headline final {
  std::string headline;
  std::string text;
};
// Nothing where the sweep came to its own end without trouble.
std::optional<Headline> trouble_of(const AuditFacts& facts, const Words& words);
Headline pull_headline(const AuditFacts& facts, const Words& words);

struct Total final {
  std::string name;
  std::size_t count = 0;
};
std::vector<Total> totals_of(const AuditFacts& facts, const Words& words);

// What to do about them, and how many more there are than are shown.
std::string unreadable_text(const AuditFacts& facts, const Words& words);
std::string sweep_text(const AuditFacts& facts, const Words& words);  // "412 frames, 27.5 s"
std::string picture_caption(const AuditPicture& picture, const Words& words);

// Ids are grouped for the eye; what is no id stands as it is.
std::string id_text(const std::string& package, const Words& words);
std::string outcome_text(const AuditRow& row, const Words& words);
// "Belongs in Cabinet 1": where it stands against where it should; empty when it is present.
std::string place_text(const AuditRow& row, const Words& words);
// "frame 214, IMG_2041.jpg"
std::string frame_text(int frame, const std::string& file, const Words& words);
std::string seen_text(const AuditRow& row, const Words& words);  // how often, and where first

// Each reason with what to do about it, then what to do about its place.
struct WhyAndWhat final {
  std::string why;
  std::string what;
};
std::vector<WhyAndWhat> why_and_what(const AuditRow& row, const Words& words);

}  // namespace loadlight::report
