#include "web/pages/shelf_view.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "loadlight/core/names.h"
#include "web/package_view.h"

namespace loadlight::web {
namespace {

using app::AuditedPackage;
using core::AuditStatus;
using core::Note;
using core::Outcome;
using core::Reason;

constexpr std::size_t kLongestName = 80;  // bytes

// The lists in the order in which they are walked. A package that is not clear and in none of the first stands
// in the last of them.
constexpr Reason kRecalled[] = {Reason::LoadRecalled, Reason::PackageRecalled, Reason::ReleaseRevoked,
                                Reason::IncidentOpen};
constexpr Reason kExpired[] = {Reason::PastUseBy};
constexpr Reason kWithdrawn[] = {Reason::Withdrawn, Reason::AlreadyOpened};
constexpr Reason kUnreleased[] = {Reason::LoadFailed,  Reason::LoadAborted, Reason::NeverInALoad,
                                  Reason::LoadNotStarted, Reason::LoadQuarantined, Reason::LoadOverdue,
                                  Reason::LoadRunning, Reason::LoadNotReleased};

// What the record does not know, or knows of another label.
constexpr Reason kStrangers[] = {Reason::LabelNotAuthentic, Reason::PackageUnknown, Reason::LabelRecordMismatch,
                                 Reason::LabelVoid};

struct PullList final {
  std::string_view name;
  std::span<const Reason> reasons;
};
constexpr PullList kPullLists[] = {
    {"recalled", kRecalled}, {"expired", kExpired}, {"withdrawn", kWithdrawn}, {"unreleased", kUnreleased}};

bool has_any(const core::Verdict& verdict, std::span<const Reason> wanted) {
  const auto& reasons = verdict.reasons();
  return std::any_of(reasons.begin(), reasons.end(), [wanted](Reason reason) {
    return std::find(wanted.begin(), wanted.end(), reason) != wanted.end();
  });
}

bool is_near_use_by(const core::Verdict& verdict) {
  const auto& notes = verdict.notes();
  return std::find(notes.begin(), notes.end(), Note::NearUseBy) != notes.end();
}

std::string_view list_of(const AuditedPackage& package) {
  const core::Verdict& verdict = package.reply.verdict;
  for (const PullList& list : kPullLists) {
    if (has_any(verdict, list.reasons)) return list.name;
  }
  if (verdict.outcome() != Outcome::Clear) return "other";
  switch (package.status) {
    case AuditStatus::Misplaced:
      return "misplaced";
    case AuditStatus::Unexpected:
      return "unexpected";
    case AuditStatus::Present:
      break;
  }
  return is_near_use_by(verdict) ? "near" : "fine";
}

std::string place_text(const Visit& visit, const AuditedPackage& package) {
  const core::Details gaps{{"at", package.seen_at}, {"expected", package.expected_at.value_or("")}};
  return visit.word("page.shelf.place." + code_text(package.status), gaps);
}

// It stands on the shelf, must not be used, and the record has not let go of it yet.
bool may_be_withdrawn(const AuditedPackage& package) {
  const core::Verdict& verdict = package.reply.verdict;
  const bool known = package.reply.package && package.reply.load;
  return known && verdict.outcome() == Outcome::DoNotUse && !has_any(verdict, kWithdrawn) &&
         !has_any(verdict, kStrangers);
}

View package_view(const Visit& visit, const AuditedPackage& package) {
  View view = check_view(visit, package.reply);
  // Asked of every package that is clear: said once, above their list.
  const std::string eyes = visit.word("note." + code_text(Note::CheckWithEyes) + ".text");
  View notes = View::array();
  for (const View& note : view["notes"]) {
    if (note != eyes) notes.push_back(note);
  }
  view["notes"] = notes;
  view["place"] = place_text(visit, package);
  view["matched"] = package.how == core::SeenHow::Matched;
  view["link"] = package.reply.package ? "/packages/" + *package.reply.package : "";
  view["withdraw"] = may_be_withdrawn(package) ? "/packages/" + *package.reply.package + "/withdraw" : "";
  return view;
}

View missing_view(const Visit& visit, const app::NotSeenPackage& missing) {
  const core::Package& package = missing.package;
  return {{"package_grouped", package.id.grouped()},
          {"contents", missing.contents_name},
          {"location", package.location.value_or("")},
          {"process_date", day_text(visit, package.process_date)},
          {"use_by", package.use_by ? day_text(visit, *package.use_by) : visit.word("check.field.no-use-by")},
          {"link", "/packages/" + package.id.text()}};
}

View corners_view(const port::Corners& corners) {
  View list = View::array();
  for (const port::PixelPoint& corner : corners) list.push_back({corner.x, corner.y});
  return list;
}

View hints_view(const Visit& visit, const app::AuditProgress& progress) {
  core::Details gaps;
  if (progress.usable_width) {
    gaps.emplace_back("centimetres", std::to_string(static_cast<int>(*progress.usable_width / 10)));
  }
  View hints = View::array();
  for (const core::SweepHint hint : progress.hints) {
    const std::string code = code_text(hint);
    hints.push_back({{"code", code},
                     {"word", visit.word("page.shelf.hint." + code)},
                     {"text", visit.word("page.shelf.hint-text." + code, gaps)}});
  }
  return hints;
}

}  // namespace

std::string source_text(const Visit& visit, const std::string& source) {
  const std::string key = "page.shelf.source." + source;
  return visit.language.words.has(key) ? visit.word(key) : source;
}

std::string upload_name(std::string_view given) {
  const auto slash = given.find_last_of("/\\");
  const std::string_view name = slash == std::string_view::npos ? given : given.substr(slash + 1);
  std::size_t length = std::min(name.size(), kLongestName);
  const auto within_a_character = [&] { return (static_cast<unsigned char>(name[length]) & 0xC0) == 0x80; };
  while (length < name.size() && length > 0 && within_a_character()) --length;
  return std::string{name.substr(0, length)};
}

View progress_view(const Visit& visit, const app::AuditProgress& progress) {
  View in_view = View::array();
  for (const app::LabelInView& label : progress.in_view) {
    in_view.push_back({{"corners", corners_view(label.corners)},
                       {"outcome", code_text(label.outcome)},
                       {"status", code_text(label.status)}});
  }
  View view{{"frame", progress.frame},
            {"frames", progress.frames},
            {"packages", progress.packages},
            {"location", progress.location},
            {"in_view", in_view},
            {"hints", hints_view(visit, progress)}};
  core::Details gaps{{"frame", std::to_string(progress.frame)}};
  if (progress.frames > 0) gaps.emplace_back("frames", std::to_string(progress.frames));
  if (progress.seconds_left > 0) {
    gaps.emplace_back("seconds", std::to_string(static_cast<long>(std::ceil(progress.seconds_left))));
  }
  view["text"] = visit.word("page.shelf.progress", gaps);
  view["count"] = visit.word("page.shelf.count", {{"count", std::to_string(progress.packages)}});
  return view;
}

View findings_view(const Visit& visit, const app::AuditReply& reply) {
  View lists = View::array();
  std::size_t to_pull = 0;
  for (const char* name : {"recalled", "expired", "withdrawn", "unreleased", "other", "unexpected", "misplaced",
                           "near", "fine"}) {
    View packages = View::array();
    for (const AuditedPackage& package : reply.packages) {
      if (list_of(package) == name) packages.push_back(package_view(visit, package));
    }
    if (packages.empty()) continue;
    const std::string key = "page.shelf.list." + std::string{name};
    const bool stays = std::string_view{name} == "near" || std::string_view{name} == "fine";
    if (!stays) to_pull += packages.size();
    lists.push_back({{"name", name},
                     {"title", visit.word(key, {{"count", std::to_string(packages.size())}})},
                     {"advice", visit.word(key + ".advice")},
                     {"stays", std::string_view{name} == "fine"},
                     {"packages", packages}});
  }
  return {{"lists", lists}, {"to_pull", to_pull}};
}

View not_seen_view(const Visit& visit, const app::AuditReply& reply) {
  View list = View::array();
  for (const app::NotSeenPackage& missing : reply.not_seen) list.push_back(missing_view(visit, missing));
  return list;
}

}  // namespace loadlight::web
