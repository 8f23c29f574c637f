#include "loadlight/app/check_packages.h"

#include <algorithm>

#include "app/copy_judging.h"
#include "app/old_labels.h"
#include "app/package_judging.h"
#include "app/package_lookup.h"
#include "app/rules_in_force.h"
#include "loadlight/app/again.h"
#include "loadlight/core/biological.h"

namespace loadlight::app {
namespace {

using core::Note;
using core::Outcome;
using core::Reason;
using core::Result;
using core::Verdict;

void show_label(const Naming& naming, bool trusted, CheckReply& reply) {
  if (naming.id) reply.package = naming.id->text();
  if (!naming.fields || !trusted) return;
  reply.load = naming.fields->load;
  reply.contents = naming.fields->contents;
  reply.process_date = naming.fields->process_date;
  reply.use_by = naming.fields->use_by;
}

void show_record(const Lookup& found, CheckReply& reply) {
  if (!found.package) return;
  const core::Package& package = *found.package;
  reply.load = package.load;
  reply.contents = package.contents;
  reply.process_date = package.process_date;
  reply.use_by = package.use_by;
  reply.location = package.location;
  if (found.contents) reply.contents_name = found.contents->name;
}

// A biological indicator that was run with the load and has no valid negative result yet: pending, or late.
Result<std::optional<Note>> biological_note(const port::Unit& unit, const core::Office& office,
                                            const core::Load& load, core::Instant now) {
  const auto runs = unit.evidence().runs_of(load.name);
  if (!runs) return runs.failure();
  const auto results = unit.evidence().biologicals_of(load.name);
  if (!results) return results.failure();
  if (runs->empty() && results->empty()) return std::optional<Note>{};
  const auto profile = profile_in_force(unit, office);
  if (!profile) return profile.failure();
  const auto standing = core::standing_of(*runs, *results, *profile);
  if (standing == core::BiologicalStanding::Negative) return std::optional<Note>{};
  const bool late =
      !standing && std::any_of(runs->begin(), runs->end(), [&](const auto& run) { return run.due_at < now; });
  return std::optional{late ? Note::BiologicalOverdue : Note::BiologicalPending};
}

// Notes inform and never change an outcome; a record that fails while they are looked up does.
Result<void> add_notes(const port::Unit& unit, const Naming& naming, const Lookup& found, core::Instant now,
                       CheckReply& reply) {
  if (naming.seen == core::Seen::TypedId) reply.verdict = reply.verdict.with(Note::CompareByEye);
  if (!found.package || !found.load || !found.facts.today) return {};
  const core::Package& package = *found.package;
  const auto office = unit.office();
  if (!office) return office.failure();
  if (!found.load->emergency_reason.empty()) {
    reply.verdict = reply.verdict.with(Note::ReleasedAsEmergency);
  }
  const auto spores = biological_note(unit, *office, *found.load, now);
  if (!spores) return spores.failure();
  if (*spores) reply.verdict = reply.verdict.with(**spores);
  if (found.days_in_doubt > 0) reply.verdict = reply.verdict.with(Note::DateInDoubt);
  const auto last_day = found.facts.package ? found.facts.package->use_by : std::nullopt;
  if (last_day && *found.facts.today <= *last_day &&
      found.facts.today->days_until(*last_day) <= office->near_days) {
    reply.verdict = reply.verdict.with(Note::NearUseBy);
  }
  if (reply.verdict.outcome() != Outcome::Clear) return {};
  reply.verdict = reply.verdict.with(Note::CheckWithEyes);
  const auto oldest = unit.packages().oldest_ready(package.contents, package.kind, *found.facts.today);
  if (!oldest) return oldest.failure();
  if (*oldest && (**oldest).process_date < package.process_date) {
    reply.older_one = (**oldest).id.text();
    reply.verdict = reply.verdict.with(Note::OlderOneElsewhere);
  }
  return {};
}

CheckReply judge(const Ports& ports, const port::Unit& unit, const CheckItem& item,
                 std::optional<bool> old_label_beside) {
  const Naming naming = name_package(item);
  Lookup found = look_up(ports, unit, naming);
  found.facts.old_label_beside = old_label_beside;
  CheckReply reply;
  reply.read = item.text;
  reply.corners = item.corners;
  reply.verdict = core::judge_package(found.facts);
  const bool forged = naming.label && !found.facts.authentic.value_or(false);
  show_label(naming, !forged, reply);
  if (forged) return reply;  // nothing of the package whose id it borrows
  show_record(found, reply);
  if (const auto noted = add_notes(unit, naming, found, ports.clock.now(), reply); !noted) {
    reply.verdict = reply.verdict.with(reason_after(noted.failure()));
  }
  return reply;
}

std::vector<CheckItem> items_or_nothing(const CheckRequest& request) {
  return request.items.empty() ? std::vector<CheckItem>{CheckItem{}} : request.items;
}

std::string reason_list(const Verdict& verdict) {
  std::string list;
  for (Reason reason : verdict.reasons()) {
    list += (list.empty() ? "" : " ") + std::string{core::to_text(reason)};
  }
  return list;
}

core::Change check_event(const Ports& ports, const CheckRequest& request, const CheckReply& reply) {
  core::Change change;
  change.kind = core::EventKind::PackageChecked;
  change.at = ports.clock.now();
  change.operator_code = request.operator_code;
  change.subject = reply.package.value_or("");
  change.details = check_details(reply);
  return change;
}

Result<void> write_checks(const Ports& ports, port::Unit& unit, const CheckRequest& request,
                          const std::vector<CheckReply>& replies) {
  for (const CheckReply& reply : replies) {
    const auto written = unit.write(check_event(ports, request, reply));
    if (!written) return written;
  }
  return unit.commit();
}

void add_reason(const core::Failure& failure, std::vector<CheckReply>& replies) {
  for (CheckReply& reply : replies) reply.verdict = reply.verdict.with(reason_after(failure));
}

bool is_by_copy(const std::vector<CheckReply>& replies) {
  return std::any_of(replies.begin(), replies.end(), [](const CheckReply& reply) { return reply.from_copy.has_value(); });
}

std::vector<CheckReply> check_cut_off(const Ports& ports, const CheckRequest& request, const core::Failure& why) {
  const auto copy = stand_in(ports, why);
  if (!copy) return check_without_record(state_after(why), request);
  auto replies = judge_by_copy(ports, *copy, request);
  queue_checks(ports, request, replies);
  return replies;
}

}  // namespace

// A text that is not ours may be anything, a person's data included: only its length is kept.
std::vector<std::pair<std::string, std::string>> check_details(const CheckReply& reply) {
  std::vector<std::pair<std::string, std::string>> details{
      {"outcome", std::string{core::to_text(reply.verdict.outcome())}}, {"reasons", reason_list(reply.verdict)}};
  if (!reply.package) details.emplace_back("length", std::to_string(reply.read.size()));
  return details;
}

CheckReply judge_item(const Ports& ports, const port::Unit& unit, const CheckItem& item) {
  return judge(ports, unit, item, false);
}

CheckReply judge_item(const Ports& ports, const Reading& reading, const CheckItem& item) {
  if (reading.own) return judge_item(ports, *reading.own, item);
  return judge_by_copy(ports, *reading.copy, {{item}, {}, {}}).front();
}

std::vector<CheckReply> judge_items(const Ports& ports, const port::Unit& unit, const CheckRequest& request) {
  const std::vector<std::optional<bool>> old_labels = find_old_labels(unit, request);
  std::vector<CheckReply> replies;
  for (std::size_t i = 0; i < request.items.size(); ++i) {
    replies.push_back(judge(ports, unit, request.items[i], old_labels[i]));
  }
  return replies;
}

void record_checks(const Ports& ports, const CheckRequest& request, std::vector<CheckReply>& replies) {
  if (is_by_copy(replies)) return queue_checks(ports, request, replies);
  const auto written = again_if_changed([&]() -> Result<void> {
    const auto unit = ports.store.begin(port::Access::Write);
    if (!unit) return unit.failure();
    return write_checks(ports, **unit, request, replies);
  });
  if (!written) add_reason(written.failure(), replies);
}

std::vector<CheckReply> check_packages(const Ports& ports, const CheckRequest& request) {
  CheckRequest whole = request;
  whole.items = items_or_nothing(request);
  std::vector<CheckReply> replies;
  const auto written = again_if_changed([&]() -> Result<void> {
    replies.clear();
    const auto unit = ports.store.begin(port::Access::Write);
    if (!unit) return unit.failure();
    replies = judge_items(ports, **unit, whole);
    return write_checks(ports, **unit, request, replies);
  });
  if (replies.empty()) return check_cut_off(ports, whole, written.failure());
  if (!written) add_reason(written.failure(), replies);
  return replies;
}

std::vector<CheckReply> check_without_record(core::RecordState why, const CheckRequest& request) {
  std::vector<CheckReply> replies;
  for (const CheckItem& item : items_or_nothing(request)) {
    const Naming naming = name_package(item);
    core::PackageFacts facts;
    facts.seen = naming.seen;
    facts.record = why;
    facts.old_label_beside = false;
    CheckReply reply;
    reply.read = item.text;
    reply.corners = item.corners;
    reply.verdict = core::judge_package(facts);
    show_label(naming, false, reply);
    replies.push_back(std::move(reply));
  }
  return replies;
}

}  // namespace loadlight::app
