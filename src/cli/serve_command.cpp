#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"

namespace loadlight::cli {
namespace {

struct ServeOptions final {
  int port = 8425;
  bool lan = false;
};

int serve(const Context& context, const ServeOptions& options) {
  if (options.port < 0 || options.port > 65535) {
    return context.fail(bad_value("port", std::to_string(options.port)));
  }
  context.warn_of_exposed();
  const auto listening = [&context](const std::string& url) {
    context.answer({{"listening", url}}, context.text("line.listening", {{"url", url}}));
  };
  const auto settled = [&context](const app::Ports& ports, const app::QueueReply& written) {
    context.tell_settled(ports, written);
  };
  const auto served = context.world.serve({context.office_folder, options.port, options.lan, listening, settled});
  if (!served) return context.fail(served.failure());
  return kDone;
}

}  // namespace

void add_serve(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "serve");
  auto options = on_call<ServeOptions>(*verb, context, serve);
  add_option(*verb, context, "--port", options->port);
  add_flag(*verb, context, "--lan", options->lan);
}

}  // namespace loadlight::cli
