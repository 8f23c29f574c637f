#include "loadlight/app/change_labels.h"

#include <algorithm>

#include "app/label_run.h"
#include "app/load_moves.h"
#include "app/package_moves.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/core/payload.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr int kMostItems = 999;  // on a tray, as in a load

bool may_be_printed_again(const core::Package& package) {
  return package.state == core::PackageState::Labelled || package.state == core::PackageState::Loaded;
}

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

Result<void> add_cells(const std::vector<core::Package>& of_run, const ReprintRequest& request,
                       std::vector<core::Package>& chosen) {
  for (const int cell : request.cells) {
    const auto at =
        std::find_if(of_run.begin(), of_run.end(), [cell](const auto& p) { return p.cell == cell; });
    if (at == of_run.end()) return bad_value("cell", std::to_string(cell));
    if (std::none_of(chosen.begin(), chosen.end(), [&](const auto& p) { return p.id == at->id; })) {
      chosen.push_back(*at);
    }
  }
  return {};
}

// The packages to print again, in the order of their cells.
Result<std::vector<core::Package>> choose(const Ports& ports, const port::Unit& unit,
                                          const ReprintRequest& request) {
  auto named = find_packages(ports, unit, request.packages);
  if (!named) return named;
  if (named->empty()) return bad_value("package", "");
  const int run = named->front().print_run;
  for (const core::Package& package : *named) {
    if (package.print_run != run) return bad_value("print-run", package.id.text());
  }
  const auto of_run = unit.packages().of_print_run(run);
  if (!of_run) return of_run.failure();
  std::vector<core::Package> chosen = request.cells.empty() ? *named : std::vector<core::Package>{};
  if (request.whole_run) {
    chosen = *of_run;
    std::erase_if(chosen, [](const auto& p) { return p.state == core::PackageState::Void; });
  }
  if (const auto ok = add_cells(*of_run, request, chosen); !ok) return ok.failure();
  for (const core::Package& package : chosen) {
    if (!may_be_printed_again(package)) return wrong_state(package);
  }
  std::sort(chosen.begin(), chosen.end(), [](const auto& a, const auto& b) { return a.cell < b.cell; });
  return chosen;
}

Result<Setting> setting_of(const port::Unit& unit, const PrintShop& shop, const core::PrintRun& run) {
  const auto stock = unit.stocks().find(run.stock);
  if (!stock) return stock.failure();
  auto form = shop.find_template(run.template_name);
  if (!form) return form.failure();
  label::LayoutOptions options;
  options.dpi = run.dpi;
  options.nudge_x = run.nudge_x_microns / 1000.0;
  options.nudge_y = run.nudge_y_microns / 1000.0;
  return Setting{stock->value_or(core::LabelStock{}), std::move(*form), options};
}

std::string cells_of(const std::vector<core::Package>& packages) {
  std::string cells;
  for (const auto& package : packages) cells += (cells.empty() ? "" : " ") + std::to_string(package.cell);
  return cells;
}

Result<void> refuse_after_start(const port::Unit& unit, const core::Package& package) {
  const auto load = find_load(unit, package.load);
  if (!load) return load.failure();
  const bool before_start = core::is_before_start(load->state);
  if (package.state == core::PackageState::Loaded && !before_start) return wrong_state(*load);
  return {};
}

Result<std::vector<label::LayoutWarning>> print_only(const PrintShop& shop, const Setting& setting,
                                                     const Paper& paper, label::LabelContent content,
                                                     core::Instant now) {
  const auto drawn = draw(shop, setting, {std::move(content)}, now);
  if (!drawn) return drawn.failure();
  if (const auto ok = shop.files.write(paper.out, drawn->pdf); !ok) return ok.failure();
  return drawn->warnings;
}

}  // namespace

Result<PrintReply> reprint_labels(const Ports& ports, const PrintShop& shop, const ReprintRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto packages = choose(ports, *act->unit, request);
  if (!packages) return packages.failure();
  const auto run = act->unit->print_runs().find(packages->front().print_run);
  if (!run) return run.failure();
  if (!*run) return Failure{FailureCode::RecordDamaged, {{"why", "print run"}}, {}};
  auto setting = setting_of(*act->unit, shop, **run);
  if (!setting) return setting.failure();
  std::vector<label::LabelContent> contents;
  for (const core::Package& package : *packages) {
    auto content = content_of(*act->unit, shop, act->office, package, true);
    if (!content) return content.failure();
    contents.push_back(std::move(*content));
    if (!request.first_cell) setting->options.cells.push_back(package.cell);
  }
  if (request.first_cell) setting->options.first_cell = *request.first_cell;
  const auto drawn = draw(shop, *setting, contents, (**run).made_at);
  if (!drawn) return drawn.failure();
  const auto written = act->write(core::EventKind::LabelsReprinted, std::to_string((**run).number), {},
                                  {{"cells", cells_of(*packages)}});
  if (!written) return written.failure();
  if (const auto ok = put_out_and_commit(*act, shop, request.out, drawn->pdf); !ok) return ok.failure();
  return PrintReply{*packages, drawn->warnings, **run};
}

Result<PrintReply> replace_label(const Ports& ports, const PrintShop& shop, const ReplaceRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = refuse_while_behind(*act); !ok) return ok.failure();
  const auto found = find_packages(ports, *act->unit, {request.package});
  if (!found) return found.failure();
  core::Package old = found->front();
  if (const auto ok = refuse_after_start(*act->unit, old); !ok) return ok.failure();
  const auto state = core::after(old.state, core::PackageMove::Void);
  if (!state) return wrong_state(old);
  const NewPackage what{request.load.value_or(old.load), request.process_date.value_or(act->today),
                        request.operator_code, request.contents.value_or(old.contents),
                        request.kind.value_or(old.kind)};
  if (what.process_date < act->today) return bad_value("date", what.process_date.iso());
  if (const auto ok = usable_contents(*act->unit, what.contents); !ok) return ok.failure();
  if (const auto ok = usable_sterilizer(*act->unit, what.load.sterilizer); !ok) return ok.failure();
  const auto number = number_for_labels(*act, what.load);
  if (!number) return number.failure();
  if (number->packed_after) return wrong_state(number->load);
  const auto setting = settle_paper(*act->unit, shop, request.paper, label::Subject::Package, true);
  if (!setting) return setting.failure();
  auto package = make_package(ports, *act, what, setting->form.shows(label::SymbolPayload::ChartCopy));
  if (!package) return package.failure();
  old.state = *state;
  old.replaced_by = package->id;
  NewRun run{core::EventKind::LabelReplaced, old.id.text(), {old}, {{"by", package->id.text()}}};
  if (number->is_new) run.more.emplace_back(number->load);
  return print_new(*act, shop, *setting, request.paper, {*package}, std::move(run));
}

Result<std::vector<core::Package>> void_labels(const Ports& ports, const VoidRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto packages = find_packages(ports, *act->unit, request.packages);
  if (!packages) return packages;
  std::vector<core::Record> records;
  std::string subject;
  for (core::Package& package : *packages) {
    const auto state = core::after(package.state, core::PackageMove::Void);
    if (!state) return wrong_state(package);
    package.state = *state;
    records.emplace_back(package);
    subject += (subject.empty() ? "" : " ") + package.id.text();
  }
  const auto written =
      act->write(core::EventKind::LabelVoided, subject, std::move(records), {{"why", request.why}});
  if (!written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  return packages;
}

Result<std::vector<label::LayoutWarning>> print_shelf_tag(const Ports& ports, const PrintShop& shop,
                                                          const ShelfTagRequest& request) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto location = (**unit).locations().find(request.location);
  if (!location) return location.failure();
  if (!*location) {
    return Failure{FailureCode::CodeUnknown, {{"table", "location"}, {"code", request.location}}, {}};
  }
  const auto setting = settle_paper(**unit, shop, request.paper, label::Subject::ShelfTag, false);
  if (!setting) return setting.failure();
  label::LabelContent content;
  content.values = {{label::Field::Location, (**location).code},
                    {label::Field::LocationName, (**location).name}};
  content.payload = core::unsigned_shelf_tag((**location).code);
  content.payload += ports.keyring.mac(content.payload);
  return print_only(shop, *setting, request.paper, std::move(content), ports.clock.now());
}

Result<std::vector<label::LayoutWarning>> print_tray_card(const Ports& ports, const PrintShop& shop,
                                                          const TrayCardRequest& request) {
  if (request.count < 1 || request.count > kMostItems)
    return bad_value("count", std::to_string(request.count));
  const auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto contents = usable_contents(*act->unit, request.contents);
  if (!contents) return contents.failure();
  if (const auto ok = usable_sterilizer(*act->unit, request.load.sterilizer); !ok) return ok.failure();
  if (const auto ok = number_for_labels(*act, request.load); !ok) return ok.failure();
  const auto setting = settle_paper(*act->unit, shop, request.paper, label::Subject::TrayCard, false);
  if (!setting) return setting.failure();
  label::LabelContent content;
  content.values = {{label::Field::Contents, contents->name},
                    {label::Field::Operator, request.operator_code},
                    {label::Field::Sterilizer, request.load.sterilizer},
                    {label::Field::Load, request.load.text()},
                    {label::Field::ProcessDate, ports.zone.local_date(ports.clock.now()).iso()},
                    {label::Field::Count, std::to_string(request.count)}};
  return print_only(shop, *setting, request.paper, std::move(content), ports.clock.now());
}

}  // namespace loadlight::app
