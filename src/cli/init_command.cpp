#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/begin_office.h"

namespace loadlight::cli {
namespace {

using core::Result;

struct InitOptions final {
  bool demo = false;
  std::string name;
  std::string profile = "us-cdc-2003";
  std::string zone;
  std::string shelf_life = "180";
};

Result<app::OfficeRequest> request_of(const Context& context, const InitOptions& options) {
  app::OfficeRequest request;
  request.name = options.name;
  request.zone = options.zone.empty() ? context.world.own_zone_name : options.zone;
  request.profile = options.profile;
  if (options.shelf_life == "event") return request;
  const bool digits = !options.shelf_life.empty() && options.shelf_life.size() <= 4 &&
                      options.shelf_life.find_first_not_of("0123456789") == std::string::npos;
  if (!digits) return bad_value("shelf-life", options.shelf_life);
  request.shelf_life_days = std::stoi(options.shelf_life);
  return request;
}

Json office_json(const Context& context, const core::Office& office) {
  return {{"office", context.office_folder},
          {"name", office.name},
          {"zone", office.zone},
          {"profile", office.profile},
          {"shelf_life_days", optional_number(office.shelf_life_days)}};
}

int make_plain(const Context& context, const app::OfficeRequest& request) {
  const auto begun = app::begin_office(context.world, context.office_folder, {request, {}, {}, {}});
  if (!begun) return context.fail(begun.failure());
  context.answer(office_json(context, begun->office),
                 context.text("line.office-made", {{"office", context.office_folder}}));
  return kDone;
}

int make_demo(const Context& context, app::OfficeRequest request) {
  const auto shop = context.open_shop();
  if (!shop) return context.fail(shop.failure());
  if (request.name.empty()) request.name = context.text("demo.office-name");
  const auto demo = app::begin_demo(context.world, context.office_folder, (*shop)->shop, request);
  if (!demo) return context.fail(demo.failure());
  for (const app::DemoCase& each : demo->cases) {
    context.answer(
        {{"case", each.name}, {"package", each.package}, {"payload", each.payload}, {"load", each.load}},
        each.name + "  " + each.package + "  " + each.load);
  }
  return kDone;
}

int make(const Context& context, const InitOptions& options) {
  const auto request = request_of(context, options);
  if (!request) return context.fail(request.failure());
  return options.demo ? make_demo(context, *request) : make_plain(context, *request);
}

}  // namespace

void add_init(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "init");
  auto options = on_call<InitOptions>(*verb, context, make);
  add_flag(*verb, context, "--demo", options->demo);
  add_option(*verb, context, "--name", options->name);
  add_option(*verb, context, "--profile", options->profile);
  add_option(*verb, context, "--zone", options->zone);
  add_option(*verb, context, "--shelf-life", options->shelf_life);
}

}  // namespace loadlight::cli
