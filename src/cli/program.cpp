#include "loadlight/cli/program.h"

#include <algorithm>
#include <iostream>

#include "cli/arguments.h"
#include "cli/commands.h"

namespace loadlight::cli {
namespace {

// The command table: one row a command, its door in the file of that name.
constexpr void (*kCommands[])(CLI::App&, Context&) = {
    add_init,     // init_command.cpp
    add_tables,   // table_commands.cpp
    add_label,    // label_command.cpp
    add_load,     // load_command.cpp
    add_check,    // check_command.cpp
    add_opening,  // opening_commands.cpp
    add_read,     // read_command.cpp
    add_audit,    // audit_command.cpp
    add_incident, // incident_command.cpp
    add_due,      // due_command.cpp
    add_profile,  // profile_command.cpp
    add_ledger,   // ledger_command.cpp
    add_clock,    // clock_command.cpp
    add_key,      // key_command.cpp
    add_station,  // station_command.cpp
    add_export,   // export_command.cpp
    add_serve,    // serve_command.cpp
    add_group,    // group_command.cpp
    add_office,   // office_command.cpp
};

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

int wrong_usage(const Context& context, const std::string& problem) {
  return context.fail({core::FailureCode::WrongUsage, {{"problem", problem}}, {}});
}

int parse_and_run(CLI::App& app, Context& context, std::vector<std::string> arguments) {
  std::reverse(arguments.begin(), arguments.end());  // as CLI11 wants them
  try {
    app.parse(arguments);
  } catch (const CLI::CallForHelp&) {
    std::cout << app.help() << std::flush;
    return kDone;
  } catch (const CLI::CallForVersion&) {
    std::cout << app.version() << std::endl;
    return kDone;
  } catch (const CLI::ParseError& error) {
    return wrong_usage(context, error.what());
  }
  return context.action ? context.run_action() : wrong_usage(context, context.text("usage.verb-missing"));
}

int run_command(const std::vector<std::string>& arguments, Context& context) {
  CLI::App app{context.text("help.program"), "loadlight"};
  app.option_defaults()->always_capture_default(false);
  app.set_help_flag("-h,--help", context.text("help.option.help"));
  app.set_version_flag("--version", std::string{"loadlight "} + LOADLIGHT_VERSION);
  add_option(app, context, "--office", context.office_folder);
  add_option(app, context, "--operator", context.operator_code);
  add_flag(app, context, "--json", context.json);
  app.footer(context.text("help.caution"));
  for (const auto add : kCommands) add(app, context);
  return parse_and_run(app, context, arguments);
}

}  // namespace

int run(const std::vector<std::string>& arguments, const World& world) {
  try {
    Context context{world};
    context.json = std::find(arguments.begin(), arguments.end(), "--json") != arguments.end();
    context.office_folder = world.office_folder;
    context.operator_code = environment("LOADLIGHT_OPERATOR");
    auto words = app::load_words(world, "en");
    if (!words) {
      std::cerr << "loadlight: the words catalogue cannot be read: " << world.templates_folder
                << "/words/en.json\n";
      return kFailed;
    }
    context.words = std::move(*words);
    try {
      return run_command(arguments, context);
    } catch (const std::exception& error) {
      return context.fail({core::FailureCode::Internal, {{"why", error.what()}}, {}});
    }
  } catch (...) {
    std::cerr << "loadlight: something went wrong that should not; nothing was changed.\n";
    return kFailed;
  }
}

}  // namespace loadlight::cli
