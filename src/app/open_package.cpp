#include "loadlight/app/open_package.h"

#include "app/incident_moves.h"
#include "app/load_moves.h"
#include "app/open_cut_off.h"
#include "app/package_moves.h"
#include "loadlight/app/act.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/core/transitions.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

bool is_one_of_our_texts(std::string_view reference) {
  return !std::holds_alternative<core::NotOursText>(core::parse_payload(reference));
}

core::WithdrawReason what_the_eyes_saw(const OpenRequest& request) {
  if (!request.dry) return core::WithdrawReason::Wet;
  if (!request.intact) return core::WithdrawReason::Torn;
  return core::WithdrawReason::Indicator;
}

Result<void> check_visit(const std::optional<std::string>& visit) {
  if (!visit || core::is_visit_reference(*visit)) return {};
  return Failure{FailureCode::BadVisitReference, {}, {}};
}

Result<void> write_opening(const Act& act, const OpenRequest& request, core::Package package) {
  // An opening that is a fact is recorded from whatever state the package was in.
  const auto opened = core::after(package.state, core::PackageMove::Open);
  if (!opened && request.already_opened_why.empty()) {
    return wrong_state(package);
  }
  package.state = core::PackageState::Opened;
  package.opened_at = act.now;
  package.visit = request.visit;
  auto details = eyes_details(request);
  if (!request.already_opened_why.empty()) details.emplace_back("recorded-late", request.already_opened_why);
  return act.write(EventKind::PackageOpened, package.id.text(), {package}, std::move(details));
}

Result<OpenReply> settle(const Act& act, OpenReply reply) {
  const auto committed = act.unit->commit();
  if (!committed) return committed.failure();
  return reply;
}

// What the eyes refused is judged anew as withdrawn: no answer about it says Clear.
Result<OpenReply> withdraw_instead(const Ports& ports, const Act& act, const OpenRequest& request,
                                   const core::Package& package) {
  const auto withdrawn = write_withdrawal(act, package, what_the_eyes_saw(request));
  if (!withdrawn) return withdrawn.failure();
  return settle(act, {OpenOutcome::Withdrawn, judge_item(ports, *act.unit, item_for(request.package))});
}

// A refusal leaves its trace like any other check.
Result<OpenReply> refuse(const Act& act, OpenReply reply) {
  const auto written =
      act.write(EventKind::PackageChecked, reply.check.package.value_or(""), {},
                {{"at", "open"}, {"outcome", std::string{core::to_text(reply.check.verdict.outcome())}}});
  if (!written) return written.failure();
  return settle(act, std::move(reply));
}

}  // namespace

CheckItem item_for(std::string_view reference) {
  return {is_one_of_our_texts(reference) ? CheckItem::How::Symbol : CheckItem::How::TypedId,
          std::string{reference}, std::nullopt};
}

bool eyes_say_yes(const OpenRequest& request) {
  return request.dry && request.intact &&
         request.external_indicator == core::IndicatorLook::Changed;
}

std::vector<std::pair<std::string, std::string>> eyes_details(const OpenRequest& request) {
  return {{"dry", request.dry ? "yes" : "no"},
          {"intact", request.intact ? "yes" : "no"},
          {"indicator", std::string{core::to_text(request.external_indicator)}}};
}

Result<OpenReply> open_package(const Ports& ports, const OpenRequest& request) {
  if (const auto ok = check_visit(request.visit); !ok) return ok.failure();
  const auto id = package_id_of(ports, request.package);
  if (!id && !is_one_of_our_texts(request.package)) return id.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return is_out_of_reach(act.failure()) ? open_cut_off(ports, request, act.failure()) : act.failure();
  OpenReply reply{OpenOutcome::Refused, judge_item(ports, *act->unit, item_for(request.package))};
  const auto package = id ? act->unit->packages().find(*id) : std::optional<core::Package>{};
  if (!package) return package.failure();
  const bool late = !request.already_opened_why.empty();
  if (!*package || (**package).state == core::PackageState::Opened) return refuse(*act, std::move(reply));
  if (!eyes_say_yes(request) && !late && core::after((**package).state, core::PackageMove::Withdraw)) {
    return withdraw_instead(ports, *act, request, **package);
  }
  if (reply.check.verdict.outcome() != core::Outcome::Clear && !late) return refuse(*act, std::move(reply));
  if (const auto written = write_opening(*act, request, **package); !written) return written.failure();
  reply.outcome = OpenOutcome::Opened;
  return settle(*act, std::move(reply));
}

Result<InternalIndicatorReply> record_internal_indicator(const Ports& ports,
                                                         const InternalIndicatorRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto packages = find_packages(ports, *act->unit, {request.package});
  if (!packages) return packages.failure();
  InternalIndicatorReply reply{packages->front(), std::nullopt};
  if (reply.package.state != core::PackageState::Opened) return wrong_state(reply.package);
  if (reply.package.internal_indicator && *reply.package.internal_indicator != request.look) {
    return Failure{FailureCode::ResultDiffers, {{"subject", reply.package.id.text()}}, {}};
  }
  const bool again = reply.package.internal_indicator.has_value();
  reply.package.internal_indicator = request.look;
  const auto written = act->write(EventKind::InternalIndicatorRead, reply.package.id.text(),
                                  {reply.package}, {{"look", std::string{core::to_text(request.look)}}});
  if (!written) return written.failure();
  if (request.look == core::IndicatorLook::Unchanged && !again) {
    const auto load = find_load(*act->unit, reply.package.load);
    if (!load) return load.failure();
    auto incident =
        open_incident(*act, *load, core::IncidentCause::InternalIndicator, reply.package.id.text());
    if (!incident) return incident.failure();
    reply.incident = *incident;
  }
  const auto committed = act->unit->commit();
  if (!committed) return committed.failure();
  return reply;
}

Result<core::Package> withdraw_package(const Ports& ports, const WithdrawRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto packages = find_packages(ports, *act->unit, {request.package});
  if (!packages) return packages.failure();
  auto withdrawn = write_withdrawal(*act, packages->front(), request.why);
  if (!withdrawn) return withdrawn;
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return withdrawn;
}

Result<std::vector<core::Package>> shelve_packages(const Ports& ports, const ShelveRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto location = act->unit->locations().find(request.location);
  if (!location) return location.failure();
  if (!*location) {
    return Failure{FailureCode::CodeUnknown, {{"table", "location"}, {"code", request.location}}, {}};
  }
  if ((**location).retired_on) {
    return Failure{FailureCode::CodeRetired, {{"table", "location"}, {"code", request.location}}, {}};
  }
  auto packages = find_packages(ports, *act->unit, request.packages);
  if (!packages) return packages;
  std::vector<core::Record> records;
  for (core::Package& package : *packages) {
    if (package.state != core::PackageState::Loaded) return wrong_state(package);
    package.location = request.location;
    records.emplace_back(package);
  }
  const auto written = act->write(EventKind::PackagesShelved, request.location, std::move(records));
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return packages;
}

}  // namespace loadlight::app
