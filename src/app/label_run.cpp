#include "app/label_run.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/rules_in_force.h"
#include "loadlight/core/payload.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using label::Field;

Result<core::LabelStock> find_stock(const port::Unit& unit, const Paper& paper) {
  const auto stocks = unit.stocks().all();
  if (!stocks) return stocks.failure();
  if (paper.stock) {
    for (const auto& stock : *stocks) {
      if (stock.code == *paper.stock) return stock;
    }
    return Failure{FailureCode::CodeUnknown, {{"table", "stock"}, {"code", *paper.stock}}, {}};
  }
  const core::LabelStock* any = nullptr;
  for (const auto& stock : *stocks) {
    if (stock.retired_on) continue;
    if (goes_through_steam(stock)) return stock;
    if (!any) any = &stock;
  }
  if (any) return *any;
  return Failure{FailureCode::CodeUnknown, {{"table", "stock"}, {"code", ""}}, {}};
}

Result<void> refuse_for_steam(const core::LabelStock& stock) {
  const core::Details details{{"stock", stock.code}};
  if (stock.method == core::PrintMethod::DirectThermal) {
    return Failure{FailureCode::StockDirectThermal, details, {}};
  }
  if (stock.rating == core::SteamRating::Unrated) return Failure{FailureCode::StockUnrated, details, {}};
  return {};
}

// A sheet for printers that take sheets, a roll for those that take rolls.
std::string_view usual_template(const core::LabelStock& stock, label::Subject subject) {
  switch (subject) {
    case label::Subject::ShelfTag:
      return "shelf-tag";
    case label::Subject::TrayCard:
      return "tray-card";
    case label::Subject::Badge:
      return "badge";
    case label::Subject::Package:
      break;
  }
  const bool sheet = stock.method == core::PrintMethod::Laser || stock.method == core::PrintMethod::Inkjet;
  return sheet ? "a4-24" : "roll-57x32";
}

std::string listed(const std::vector<std::string>& items) {
  std::string text;
  for (const std::string& item : items) text += (text.empty() ? "" : ", ") + item;
  return text;
}

std::optional<core::CivilDate> use_by_for(const core::Office& office, const core::Profile& profile,
                                          const core::PackageKind& kind, core::CivilDate process_date) {
  if (!office.shelf_life_days) return std::nullopt;
  const core::CivilDate day = process_date.plus_days(*office.shelf_life_days);
  const auto cap = core::last_day_by_profile(profile, kind.wrapping, process_date);
  return cap ? std::min(day, *cap) : day;
}

Result<core::PackageId> draw_id(const Ports& ports, const port::Unit& unit) {
  for (;;) {
    std::array<std::uint8_t, core::PackageId::kRandomBytes> bytes;
    ports.keyring.fill_random(bytes);
    const auto id = core::PackageId::from_random(bytes);
    if (!id) continue;
    const auto taken = unit.packages().find(*id);
    if (!taken) return taken.failure();
    if (!*taken) return *id;
  }
}

std::string signed_text(const Ports& ports, core::LabelForm form, const core::LabelFields& fields) {
  std::string text = core::unsigned_payload(form, fields);
  text += ports.keyring.mac(text);
  return text;
}

}  // namespace

bool goes_through_steam(const core::LabelStock& stock) {
  return stock.method != core::PrintMethod::DirectThermal && stock.rating != core::SteamRating::Unrated;
}

Result<Setting> settle_paper(const port::Unit& unit, const PrintShop& shop, const Paper& paper,
                             label::Subject subject, bool for_steam) {
  const auto stock = find_stock(unit, paper);
  if (!stock) return stock.failure();
  if (stock->retired_on) {
    return Failure{FailureCode::CodeRetired, {{"table", "stock"}, {"code", stock->code}}, {}};
  }
  if (for_steam) {
    if (const auto ok = refuse_for_steam(*stock); !ok) return ok.failure();
  }
  const std::string name = paper.template_name.value_or(std::string{usual_template(*stock, subject)});
  auto form = shop.find_template(name);
  if (!form) return form.failure();
  if (form->subject != subject) return Failure{FailureCode::TemplateUnknown, {{"template", name}}, {}};
  label::LayoutOptions options;
  options.dpi = stock->dpi;
  options.first_cell = paper.first_cell;
  options.nudge_x = paper.nudge_x;
  options.nudge_y = paper.nudge_y;
  return Setting{*stock, std::move(*form), options};
}

Result<Drawn> draw(const PrintShop& shop, const Setting& setting,
                   const std::vector<label::LabelContent>& labels, core::Instant made) {
  auto laid = label::lay_out(setting.form, labels, setting.options, shop.words, shop.gauge, shop.encoder);
  if (!laid) return laid.failure();
  auto pdf = shop.press.print(laid->pages, made);
  if (!pdf) return pdf.failure();
  return Drawn{std::move(*pdf), std::move(laid->labels), std::move(laid->warnings)};
}

Result<label::LabelContent> content_of(const port::Unit& unit, const PrintShop& shop,
                                       const core::Office& office, const core::Package& package,
                                       bool as_issued) {
  const auto contents = unit.contents().find(package.contents);
  if (!contents) return contents.failure();
  const auto kind = unit.kinds().find(package.kind);
  if (!kind) return kind.failure();
  if (!*contents || !*kind) {
    return Failure{FailureCode::RecordDamaged, {{"why", "package " + package.id.text()}}, {}};
  }
  label::LabelContent content;
  content.values = {{Field::Contents, (**contents).name},
                    {Field::Operator, package.operator_code},
                    {Field::Sterilizer, package.load.sterilizer},
                    {Field::Load, package.load.text()},
                    {Field::ProcessDate, package.process_date.iso()},
                    {Field::Package, package.id.grouped()},
                    {Field::Kind, (**kind).name}};
  if (!(**contents).items.empty()) content.values[Field::Items] = listed((**contents).items);
  if (!office.name.empty()) content.values[Field::Office] = office.name;
  if (package.use_by) {
    content.values[Field::UseBy] = package.use_by->iso();
  } else if (const auto statement = shop.words("label.event-related", {})) {
    content.values[Field::EventRelated] = *statement;
  }
  content.payload = package.payload;
  content.chart_payload = package.chart_payload;
  if (as_issued) {
    content.form = package.symbol;
    if (!package.chart_payload.empty()) content.chart_form = package.chart_symbol;
  }
  return content;
}

Result<core::Package> make_package(const Ports& ports, const Act& act, const NewPackage& what,
                                   bool with_chart_copy) {
  const auto kind = usable_kind(*act.unit, what.kind);
  if (!kind) return kind.failure();
  const auto profile = profile_in_force(*act.unit, act.office);
  if (!profile) return profile.failure();
  const auto id = draw_id(ports, *act.unit);
  if (!id) return id.failure();
  const core::LabelFields fields{*id,
                                 what.load,
                                 what.process_date,
                                 use_by_for(act.office, *profile, *kind, what.process_date),
                                 what.operator_code,
                                 what.contents,
                                 what.kind};
  core::Package package{.id = *id,
                        .load = what.load,
                        .process_date = what.process_date,
                        .use_by = fields.use_by,
                        .operator_code = what.operator_code,
                        .contents = what.contents,
                        .kind = what.kind,
                        .payload = signed_text(ports, core::LabelForm::Package, fields),
                        .symbol = {},
                        .chart_payload = {},
                        .chart_symbol = {},
                        .printed_at = act.now,
                        .replaced_by = {},
                        .location = {},
                        .withdrawn_because = {},
                        .opened_at = {},
                        .visit = {},
                        .internal_indicator = {}};
  if (with_chart_copy) package.chart_payload = signed_text(ports, core::LabelForm::ChartCopy, fields);
  return package;
}

Result<PrintReply> print_new(const Act& act, const PrintShop& shop, const Setting& setting,
                             const Paper& paper, std::vector<core::Package> packages, NewRun run) {
  std::vector<label::LabelContent> contents;
  for (const core::Package& package : packages) {
    auto content = content_of(*act.unit, shop, act.office, package, false);
    if (!content) return content.failure();
    contents.push_back(std::move(*content));
  }
  const auto drawn = draw(shop, setting, contents, act.now);
  if (!drawn) return drawn.failure();
  const auto highest = act.unit->print_runs().highest_number();
  if (!highest) return highest.failure();
  core::PrintRun print_run{*highest + 1,
                           setting.form.name,
                           setting.stock.code,
                           setting.options.dpi,
                           setting.options.first_cell,
                           static_cast<int>(std::lround(setting.options.nudge_x * 1000)),
                           static_cast<int>(std::lround(setting.options.nudge_y * 1000)),
                           act.now};
  std::vector<core::Record> records{print_run};
  for (std::size_t i = 0; i < packages.size(); ++i) {
    packages[i].print_run = print_run.number;
    packages[i].cell = drawn->labels[i].cell;
    packages[i].symbol = drawn->labels[i].form.value_or(core::SymbolForm{});
    packages[i].chart_symbol = drawn->labels[i].chart_form.value_or(core::SymbolForm{});
    records.emplace_back(packages[i]);
  }
  records.insert(records.end(), run.more.begin(), run.more.end());
  if (const auto ok = act.write(run.kind, run.subject, std::move(records), std::move(run.details)); !ok) {
    return ok.failure();
  }
  if (const auto ok = put_out_and_commit(act, shop, paper.out, drawn->pdf); !ok) return ok.failure();
  return PrintReply{std::move(packages), drawn->warnings, print_run};
}

Result<void> put_out_and_commit(const Act& act, const PrintShop& shop, const std::string& out,
                                const std::string& pdf) {
  if (const auto ok = shop.files.write(out, pdf); !ok) return ok;
  const auto committed = act.unit->commit();
  if (!committed) shop.files.take_back(out);
  return committed;
}

Result<core::Contents> usable_contents(const port::Unit& unit, const std::string& code) {
  const auto contents = unit.contents().find(code);
  if (!contents) return contents.failure();
  const core::Details details{{"table", "contents"}, {"code", code}};
  if (!*contents) return Failure{FailureCode::CodeUnknown, details, {}};
  if ((**contents).retired_on) return Failure{FailureCode::CodeRetired, details, {}};
  return **contents;
}

Result<core::PackageKind> usable_kind(const port::Unit& unit, const std::string& code) {
  const auto kind = unit.kinds().find(code);
  if (!kind) return kind.failure();
  const core::Details details{{"table", "kind"}, {"code", code}};
  if (!*kind) return Failure{FailureCode::CodeUnknown, details, {}};
  if ((**kind).retired_on) return Failure{FailureCode::CodeRetired, details, {}};
  if (!core::is_wrapped((**kind).wrapping)) {
    return Failure{FailureCode::KindTakesNoLabel, {{"kind", code}}, {}};
  }
  return **kind;
}

}  // namespace loadlight::app
