// The verbs below "sterilizer" that are about its service, and the one below "program" by which a lead signs.
#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/service_sterilizer.h"
#include "loadlight/app/set_profile.h"

namespace loadlight::cli {
namespace {

int answer_sterilizer(const Context& context, const core::Result<core::Sterilizer>& sterilizer) {
  if (!sterilizer) return context.fail(sterilizer.failure());
  context.answer({{"code", sterilizer->code}, {"in_service", sterilizer->in_service}},
                 context.text(sterilizer->in_service ? "line.in-service" : "line.out-of-service",
                              {{"sterilizer", sterilizer->code}}));
  return kDone;
}

void answer_entry(const Context& context, const core::ServiceEntry& entry) {
  const std::string kind{core::to_text(entry.kind)};
  context.answer({{"number", entry.number},
                  {"sterilizer", entry.sterilizer},
                  {"kind", kind},
                  {"note", entry.note},
                  {"counter_reset", entry.counter_reset},
                  {"next_due", date_json(entry.next_due)},
                  {"by", entry.done_by},
                  {"at", core::to_text(entry.done_at)}},
                 context.text("line.service", {{"at", core::to_text(entry.done_at)},
                                               {"kind", context.text("service." + kind)},
                                               {"operator", entry.done_by},
                                               {"note", entry.note}}));
}

struct OutOptions final {
  std::string code;
  std::string why;
};

int out(const Context& context, const OutOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_sterilizer(context, app::take_out_of_service((*office)->ports, {context.operator_code,
                                                                                options.code, options.why}));
}

struct ReturnOptions final {
  std::string code;
  std::string note;
};

int put_back(const Context& context, const ReturnOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_sterilizer(
      context, app::return_to_service((*office)->ports, {context.operator_code, options.code, options.note}));
}

struct ServiceOptions final {
  std::string code;
  std::string kind = "maintenance";
  std::string note;
  std::string next;
  bool counter_reset = false;
};

int service(const Context& context, const ServiceOptions& options) {
  const auto kind = parse_term<core::ServiceKind>("what", options.kind);
  if (!kind) return context.fail(kind.failure());
  const auto next = parse_optional_date("next", options.next);
  if (!next) return context.fail(next.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto entry = app::record_service((*office)->ports, {context.operator_code, options.code, *kind,
                                                            options.note, options.counter_reset, *next});
  if (!entry) return context.fail(entry.failure());
  answer_entry(context, *entry);
  return kDone;
}

struct LogOptions final {
  std::string code;
};

int log(const Context& context, const LogOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto entries = app::service_log((*office)->ports, options.code);
  if (!entries) return context.fail(entries.failure());
  for (const core::ServiceEntry& entry : *entries) answer_entry(context, entry);
  return context.delivered(kDone);
}

struct AcceptOptions final {
  std::string code;
};

int accept(const Context& context, const AcceptOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto program = app::accept_program((*office)->ports, {context.operator_code, options.code});
  if (!program) return context.fail(program.failure());
  context.answer({{"code", program->code}, {"accepted_by", program->accepted_by}},
                 context.text("line.program-accepted",
                              {{"program", program->code}, {"operator", program->accepted_by}}));
  return kDone;
}

template <class Options>
std::shared_ptr<Options> add_coded(CLI::App& parent, Context& context, const char* name,
                                   int (*work)(const Context&, const Options&)) {
  CLI::App* verb = add_verb(parent, context, name);
  auto options = on_call<Options>(*verb, context, work);
  verb->add_option("code,--code", options->code, context.text("help.column.code"))->required();
  return options;
}

}  // namespace

void add_service_verbs(CLI::App& sterilizer_verb, Context& context) {
  auto leaving = add_coded<OutOptions>(sterilizer_verb, context, "out", out);
  add_option(*sterilizer_verb.get_subcommand("out"), context, "--why", leaving->why)->required();
  auto returning = add_coded<ReturnOptions>(sterilizer_verb, context, "return", put_back);
  add_option(*sterilizer_verb.get_subcommand("return"), context, "--note", returning->note)->required();
  auto serving = add_coded<ServiceOptions>(sterilizer_verb, context, "service", service);
  CLI::App& service_verb = *sterilizer_verb.get_subcommand("service");
  add_option(service_verb, context, "--what", serving->kind);
  add_option(service_verb, context, "--note", serving->note)->required();
  add_option(service_verb, context, "--next", serving->next);
  add_flag(service_verb, context, "--counter-reset", serving->counter_reset);
  add_coded<LogOptions>(sterilizer_verb, context, "log", log);
}

void add_program_acceptance(CLI::App& program_verb, Context& context) {
  add_coded<AcceptOptions>(program_verb, context, "accept", accept);
}

}  // namespace loadlight::cli
