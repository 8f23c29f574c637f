#include "loadlight/app/watch_packages.h"

#include <algorithm>

#include "app/copy_judging.h"
#include "app/package_judging.h"
#include "app/package_lookup.h"

namespace loadlight::app {
namespace {

using core::Outcome;
using core::Reason;
using core::Verdict;

bool has(const Verdict& verdict, Reason reason) {
  const auto reasons = verdict.reasons();
  return std::find(reasons.begin(), reasons.end(), reason) != reasons.end();
}

bool is_by_copy(const Verdict& verdict) {
  const auto& notes = verdict.notes();
  return std::find(notes.begin(), notes.end(), core::Note::LocalCopy) != notes.end();
}

bool agree(const Verdict& one, const Verdict& other) {
  return one.outcome() == other.outcome() && one.reasons() == other.reasons() && is_by_copy(one) == is_by_copy(other);
}

}  // namespace

PackageWatch::PackageWatch(const Ports& ports, CheckRequest request)
    : ports_(ports), request_(std::move(request)) {}

std::vector<CheckReply> PackageWatch::see(const std::vector<CheckItem>& items, Time now) {
  forget_gone(now);
  ++frame_;
  if (items.empty()) return {};
  CheckRequest frame = request_;
  frame.items = items;
  std::vector<CheckReply> news;
  for (CheckReply& reply : judge(frame)) {
    InView& package = in_view_[reply.read];
    package.seen = now;
    package.old_label = package.old_label || has(reply.verdict, Reason::OldLabelInView);
    if (package.old_label && !has(reply.verdict, Reason::OldLabelInView)) {
      reply.verdict = reply.verdict.with(Reason::OldLabelInView);
    }
    if (is_to_be_shown(package, reply.verdict)) news.push_back(std::move(reply));
  }
  if (news.empty()) return news;
  record_checks(ports_, frame, news);
  for (const CheckReply& reply : news) in_view_[reply.read].shown = reply.verdict;
  return news;
}

void PackageWatch::forget_gone(Time now) {
  std::erase_if(in_view_, [now](const auto& each) { return now - each.second.seen > kGoneAfter; });
}

std::vector<CheckReply> PackageWatch::judge(const CheckRequest& frame) {
  const auto unit = ports_.store.begin(port::Access::Read);
  if (unit) return judge_items(ports_, **unit, frame);
  const auto copy = stand_in(ports_, unit.failure());
  if (copy) return judge_by_copy(ports_, *copy, frame);
  return check_without_record(state_after(unit.failure()), frame);
}

bool PackageWatch::is_to_be_shown(InView& package, const Verdict& verdict) {
  const bool twice = package.last && agree(*package.last, verdict) && package.frame != frame_;
  package.last = verdict;
  package.frame = frame_;
  if (package.shown && agree(*package.shown, verdict)) return false;
  const Outcome so_far = package.shown ? package.shown->outcome() : Outcome::Clear;
  return verdict.outcome() > so_far || twice;
}

}  // namespace loadlight::app
