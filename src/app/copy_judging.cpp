#include "app/copy_judging.h"

#include <algorithm>
#include <array>

#include "app/package_judging.h"
#include "app/package_lookup.h"
#include "loadlight/app/queued_acts.h"

namespace loadlight::app {
namespace {

using core::EventKind;

bool was_opened_here(const StandIn& copy, const std::string& package) {
  return std::any_of(copy.waiting.begin(), copy.waiting.end(), [&](const port::QueuedAct& act) {
    return act.kind == EventKind::PackageOpened && act.subject == package;
  });
}

void mark(const StandIn& copy, CheckReply& reply) {
  reply.from_copy = copy.from;
  reply.verdict = reply.verdict.with(core::Note::LocalCopy);
  if (reply.package && was_opened_here(copy, *reply.package)) {
    reply.verdict = reply.verdict.with(core::Reason::AlreadyOpened);
  }
}

std::string random_name(const port::Keyring& keyring) {
  std::array<std::uint8_t, 16> bytes{};
  keyring.fill_random(bytes);
  std::string name;
  for (const std::uint8_t byte : bytes) {
    name += "0123456789abcdef"[byte >> 4];
    name += "0123456789abcdef"[byte & 15];
  }
  return name;
}

bool queue_check(const Ports& ports, const CheckRequest& request, const CheckReply& reply) {
  auto act = act_to_queue(ports, EventKind::PackageChecked, request.operator_code, *reply.package, *reply.from_copy);
  for (auto& detail : check_details(reply)) act.details.push_back(std::move(detail));
  const auto queued = ports.copy->queue(act, reply.from_copy->taken);
  return queued && *queued;
}

}  // namespace

std::vector<CheckReply> judge_by_copy(const Ports& ports, const StandIn& copy, const CheckRequest& request) {
  auto replies = judge_items(ports, copy.unit(), request);
  for (CheckReply& reply : replies) mark(copy, reply);
  return replies;
}

void queue_checks(const Ports& ports, const CheckRequest& request, std::vector<CheckReply>& replies) {
  for (CheckReply& reply : replies) {
    const bool left_a_trace = reply.package && ports.copy && reply.from_copy && queue_check(ports, request, reply);
    if (!left_a_trace) reply.verdict = reply.verdict.with(core::Reason::RecordUnreachable);
  }
}

port::QueuedAct act_to_queue(const Ports& ports, EventKind kind, std::string operator_code, std::string package,
                             const FromCopy& from) {
  return {random_name(ports.keyring), kind, ports.clock.now(), std::move(operator_code), std::move(package),
          {{kCopyDetail, std::to_string(from.minutes)}}};
}

}  // namespace loadlight::app
