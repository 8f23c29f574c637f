#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/open_package.h"

namespace loadlight::cli {
namespace {

struct OpenOptions final {
  std::string package;
  std::string visit;
  std::string dry;
  std::string intact;
  std::string indicator;
  std::string already_opened;
};

int answer_opening(const Context& context, const app::OpenReply& reply) {
  answer_check(context, reply.check);
  switch (reply.outcome) {
    case app::OpenOutcome::Opened:
      context.tell(context.text(reply.check.from_copy ? "open.queued" : "open.opened"));
      return kDone;
    case app::OpenOutcome::Withdrawn:
      context.tell(context.text("open.withdrawn"));
      return kRefused;
    case app::OpenOutcome::Refused:
      context.tell(context.text("open.refused"));
      return kRefused;
  }
  return kRefused;
}

int open(const Context& context, const OpenOptions& options) {
  const auto dry = parse_yes_no("dry", options.dry);
  if (!dry) return context.fail(dry.failure());
  const auto intact = parse_yes_no("intact", options.intact);
  if (!intact) return context.fail(intact.failure());
  const auto indicator = parse_term<core::IndicatorLook>("indicator", options.indicator);
  if (!indicator) return context.fail(indicator.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  app::OpenRequest request{context.operator_code, options.package, {}, *dry, *intact, *indicator,
                           options.already_opened};
  if (!options.visit.empty()) request.visit = options.visit;
  const auto reply = app::open_package((*office)->ports, request);
  if (!reply) return context.fail(reply.failure());
  return answer_opening(context, *reply);
}

struct OpenedOptions final {
  std::string package;
  std::string internal;
};

int opened(const Context& context, const OpenedOptions& options) {
  const auto look = parse_term<core::IndicatorLook>("internal", options.internal);
  if (!look) return context.fail(look.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto reply = app::record_internal_indicator((*office)->ports,
                                                    {context.operator_code, options.package, *look});
  if (!reply) return context.fail(reply.failure());
  Json more{{"internal_indicator", options.internal},
            {"incident", reply->incident ? Json(reply->incident->number) : Json(nullptr)}};
  if (reply->incident) {
    context.tell(context.text("opened.incident", {{"incident", std::to_string(reply->incident->number)},
                                                  {"load", reply->package.load.text()}}));
  }
  answer_package(context, reply->package, std::move(more));
  return kDone;
}

struct WithdrawOptions final {
  std::string package;
  std::string why;
};

int withdraw(const Context& context, const WithdrawOptions& options) {
  const auto why = parse_term<core::WithdrawReason>("why", options.why);
  if (!why) return context.fail(why.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto package =
      app::withdraw_package((*office)->ports, {context.operator_code, options.package, *why});
  if (!package) return context.fail(package.failure());
  answer_package(context, *package, {{"why", options.why}});
  return kDone;
}

struct ShelveOptions final {
  std::vector<std::string> packages;
  std::string location;
};

int shelve(const Context& context, const ShelveOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto packages =
      app::shelve_packages((*office)->ports, {context.operator_code, options.packages, options.location});
  if (!packages) return context.fail(packages.failure());
  for (const core::Package& package : *packages) answer_package(context, package);
  return kDone;
}

}  // namespace

void add_opening(CLI::App& app, Context& context) {
  CLI::App* open_verb = add_verb(app, context, "open");
  auto opening = on_call<OpenOptions>(*open_verb, context, open);
  add_option(*open_verb, context, "package", opening->package)->required();
  add_option(*open_verb, context, "--visit", opening->visit);
  add_option(*open_verb, context, "--dry", opening->dry)->required();
  add_option(*open_verb, context, "--intact", opening->intact)->required();
  add_option(*open_verb, context, "--indicator", opening->indicator)->required();
  add_option(*open_verb, context, "--already-opened", opening->already_opened);
  CLI::App* opened_verb = add_verb(app, context, "opened");
  auto after = on_call<OpenedOptions>(*opened_verb, context, opened);
  add_option(*opened_verb, context, "package", after->package)->required();
  add_option(*opened_verb, context, "--internal", after->internal)->required();
  CLI::App* withdraw_verb = add_verb(app, context, "withdraw");
  auto withdrawing = on_call<WithdrawOptions>(*withdraw_verb, context, withdraw);
  add_option(*withdraw_verb, context, "package", withdrawing->package)->required();
  add_option(*withdraw_verb, context, "--why", withdrawing->why)->required();
  CLI::App* shelve_verb = add_verb(app, context, "shelve");
  auto shelving = on_call<ShelveOptions>(*shelve_verb, context, shelve);
  add_option(*shelve_verb, context, "packages", shelving->packages)->required();
  add_option(*shelve_verb, context, "--location", shelving->location)->required();
}

}  // namespace loadlight::cli
