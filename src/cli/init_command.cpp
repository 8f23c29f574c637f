#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/make_demo.h"
#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::cli {
namespace {

using core::Failure;
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

int make_plain(const Context& context, const app::Ports& ports, const app::OfficeRequest& request) {
  const auto office = app::make_office(ports, request);
  if (!office) return context.fail(office.failure());
  context.answer(office_json(context, *office),
                 context.text("line.office-made", {{"office", context.office_folder}}));
  return kDone;
}

Result<app::DemoTables> demo_tables(const World& world) {
  app::DemoTables tables;
  for (const auto table : {app::OfficeTable::Operators, app::OfficeTable::Sterilizers,
                           app::OfficeTable::Contents, app::OfficeTable::Kinds, app::OfficeTable::Locations,
                           app::OfficeTable::Stocks, app::OfficeTable::Programs}) {
    const std::string name{app::text_of(table).name};
    auto csv = world.files.read(world.samples_folder + "/office/" + name + ".csv", 1u << 20);
    if (!csv) return csv.failure();
    tables.csv.emplace_back(table, std::move(*csv));
  }
  const std::string mapping_name = "plain-seconds";
  const auto mapping =
      world.files.read(world.templates_folder + "/mappings/" + mapping_name + ".mapping", 1u << 16);
  if (!mapping) return mapping.failure();
  for (const char* name : {"good-prevac-134.csv", "short-exposure.csv"}) {
    auto log = world.files.read(world.samples_folder + "/cycles/" + name, 1u << 20);
    if (!log) return log.failure();
    tables.logs.push_back({name, std::move(*log), mapping_name, *mapping});
  }
  return tables;
}

int make_demo(const Context& context, const app::Ports& ports, app::OfficeRequest request) {
  const auto tables = demo_tables(context.world);
  if (!tables) return context.fail(tables.failure());
  const auto shop = context.open_shop();
  if (!shop) return context.fail(shop.failure());
  if (request.name.empty()) request.name = context.text("demo.office-name");
  const auto cases = app::make_demo(ports, (*shop)->shop, request, *tables);
  if (!cases) return context.fail(cases.failure());
  for (const app::DemoCase& each : *cases) {
    context.answer(
        {{"case", each.name}, {"package", each.package}, {"payload", each.payload}, {"load", each.load}},
        each.name + "  " + each.package + "  " + each.load);
  }
  return kDone;
}

int make(const Context& context, const InitOptions& options) {
  const auto request = request_of(context, options);
  if (!request) return context.fail(request.failure());
  auto zone = context.world.open_zone(request->zone);
  if (!zone) return context.fail(zone.failure());
  auto leaves = context.world.make_office(context.office_folder);
  if (!leaves) return context.fail(leaves.failure());
  const app::Ports ports{*leaves->store, context.world.clock, **zone, *leaves->keyring};
  const int status =
      options.demo ? make_demo(context, ports, *request) : make_plain(context, ports, *request);
  if (status != kDone) context.world.unmake_office(context.office_folder);
  return status;
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
