#include "report/audit_texts.h"

#include "loadlight/core/names.h"
#include "report/plot_scale.h"

namespace loadlight::report {
namespace {

using core::AuditStatus;
using core::Outcome;

std::string text(const Words& words, std::string_view name, const core::Details& details = {}) {
  return words.text("audit.report." + std::string{name}, details);
}

}  // namespace

core::Details audit_details(const AuditFacts& facts) {
  core::Details gaps{
      {"audit", facts.audit}, {"location", facts.location}, {"begun", facts.begun}, {"ended", facts.ended}};
  if (!facts.office.empty()) gaps.emplace_back("office", facts.office);
  if (!facts.operator_name.empty()) gaps.emplace_back("who", facts.operator_name);
  return gaps;
}

std::optional<Headline> trouble_of(const AuditFacts& facts, const Words& words) {
  if (!facts.interrupted && facts.trouble.empty()) return std::nullopt;
  const std::string headline = text(words, facts.interrupted ? "cut-short" : "trouble");
  if (facts.trouble.empty()) return Headline{headline, text(words, "cut-short.stopped")};
  if (!facts.interrupted) return Headline{headline, facts.trouble};
  return Headline{headline, text(words, "cut-short.why", {{"trouble", facts.trouble}})};
}

Headline pull_headline(const AuditFacts& facts, const Words& words) {
  const AuditCounts counts = counts_of(facts);
  const core::Details gaps{{"count", std::to_string(counts.pull)},
                           {"seen", std::to_string(facts.rows.size())}};
  const std::string key = facts.rows.empty() ? "nothing-seen"
                          : counts.pull > 0  ? "to-pull"
                                             : "nothing-to-pull";
  return {text(words, key, gaps), text(words, key + ".text", gaps)};
}

std::vector<Total> totals_of(const AuditFacts& facts, const Words& words) {
  const AuditCounts counts = counts_of(facts);
  const std::pair<const char*, std::size_t> totals[] = {{"seen", facts.rows.size()},
                                                        {"do-not-use", counts.do_not_use},
                                                        {"misplaced", counts.misplaced},
                                                        {"not-seen", counts.not_seen},
                                                        {"hold", counts.hold},
                                                        {"unexpected", counts.unexpected},
                                                        {"unreadable", counts.unreadable},
                                                        {"clear", counts.clear},
                                                        {"present", counts.present},
                                                        {"near-use-by", counts.near_use_by},
                                                        {"matched", counts.matched}};
  std::vector<Total> out;
  for (const auto& [name, count] : totals) {
    out.push_back({text(words, "key." + std::string{name}), count});
  }
  if (facts.other_symbols > 0) {
    out.push_back({text(words, "key.other-symbols"), static_cast<std::size_t>(facts.other_symbols)});
  }
  return out;
}

std::string unreadable_text(const AuditFacts& facts, const Words& words) {
  if (facts.unreadable_beyond == 0) return text(words, "unreadable-text");
  return text(words, "unreadable-text") + " " +
         text(words, "unreadable-beyond", {{"count", std::to_string(facts.unreadable_beyond)}});
}

std::string sweep_text(const AuditFacts& facts, const Words& words) {
  return text(words, "frames",
              {{"frames", std::to_string(facts.frames)}, {"seconds", fixed(facts.seconds, 1)}});
}

std::string picture_caption(const AuditPicture& picture, const Words& words) {
  return text(words, "picture-caption",
              {{"where", frame_text(picture.frame, picture.file, words)},
               {"count", std::to_string(picture.marks.size())}});
}

std::string id_text(const std::string& package, const Words& words) {
  if (package.empty()) return words.text("audit.report.no-id");
  const auto id = core::PackageId::parse_exact(package);
  return id ? id->grouped() : package;
}

std::string outcome_text(const AuditRow& row, const Words& words) {
  return words.text("outcome." + std::string{core::to_text(row.outcome)});
}

std::string place_text(const AuditRow& row, const Words& words) {
  switch (row.status) {
    case AuditStatus::Present:
      return "";
    case AuditStatus::Misplaced:
      return words.text("audit.report.misplaced", {{"location", row.expected_at}});
    case AuditStatus::Unexpected:
      return words.text("audit.report.unexpected");
  }
  return "";
}

std::vector<WhyAndWhat> why_and_what(const AuditRow& row, const Words& words) {
  std::vector<WhyAndWhat> lines;
  for (std::size_t i = 0; i < row.reasons.size(); ++i) {
    lines.push_back({row.reasons[i], i < row.actions.size() ? row.actions[i] : ""});
  }
  // What must not be used is not first carried to where it belonged, and what has a reason against it is told
  // what to do by that.
  const bool settled =
      row.status == AuditStatus::Unexpected ? !lines.empty() : row.outcome == Outcome::DoNotUse;
  if (row.status == AuditStatus::Present || settled) return lines;
  const std::string code{core::to_text(row.status)};
  const core::Details where{{"location", row.expected_at}};
  lines.push_back({text(words, "why." + code, where), text(words, "do." + code, where)});
  return lines;
}

std::string frame_text(int frame, const std::string& file, const Words& words) {
  core::Details details{{"frame", std::to_string(frame)}};
  if (!file.empty()) details.emplace_back("file", file);
  return words.text("audit.report.frame", details);
}

std::string seen_text(const AuditRow& row, const Words& words) {
  const std::string how{core::to_text(row.how)};
  return words.text("audit.report.seen." + how, {{"count", std::to_string(row.sightings)},
                                                 {"where", frame_text(row.first_frame, row.file, words)}});
}

}  // namespace loadlight::report
