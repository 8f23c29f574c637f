#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/export_record.h"

namespace loadlight::cli {
namespace {

struct ExportOptions final {
  std::string reader;
  std::string out;
  std::string from;
  std::string to;
};

core::Result<app::ExportRequest> request_of(const Context& context, const ExportOptions& options) {
  app::ExportRequest request;
  request.operator_code = context.operator_code;
  const auto reader = parse_term<app::ExportReader>("for", options.reader);
  if (!reader) return reader.failure();
  request.reader = *reader;
  const auto first = parse_optional_date("from", options.from);
  if (!first) return first.failure();
  if (*first) request.first = **first;
  const auto last = parse_optional_date("to", options.to);
  if (!last) return last.failure();
  if (*last) request.last = **last;
  return request;
}

int export_for(const Context& context, const ExportOptions& options) {
  const auto request = request_of(context, options);
  if (!request) return context.fail(request.failure());
  if (const auto ok = context.spare_the_office(options.out); !ok) return context.fail(ok.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto exported = app::export_record((*office)->ports, *context.words, *request);
  if (!exported) return context.fail(exported.failure());
  const auto written = context.world.files.write(options.out, exported->archive);
  if (!written) return context.fail(written.failure());
  const std::string loads = std::to_string(exported->loads);
  context.answer({{"for", options.reader}, {"out", options.out}, {"loads", exported->loads}},
                 context.text("line.exported", {{"loads", loads}, {"path", options.out}}));
  return context.delivered(kDone);
}

}  // namespace

void add_export(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "export");
  auto options = on_call<ExportOptions>(*verb, context, export_for);
  verb->add_option("--for", options->reader, context.text("help.option.for-whom"))->required();
  add_option(*verb, context, "--out", options->out)->required();
  add_option(*verb, context, "--from", options->from);
  add_option(*verb, context, "--to", options->to);
}

}  // namespace loadlight::cli
