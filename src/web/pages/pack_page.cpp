// What is to be packed, how, and into which load: chosen and looked at.
#include "loadlight/app/pack_choices.h"
#include "loadlight/app/office_printers.h"
#include "loadlight/app/preview_labels.h"
#include "web/label_templates.h"
#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/print_order.h"

namespace loadlight::web {
namespace {

using app::PackChoices;
using core::Result;

constexpr int kPreviewPixels = 1000;
constexpr int kFavourites = 8;

std::string joined(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : ", ") + text;
  return all;
}

View contents_view(const std::vector<app::ContentsChoice>& choices, std::string_view chosen) {
  View list = View::array();
  int favourites = 0;
  for (const app::ContentsChoice& choice : choices) {
    const bool favourite = choice.lately > 0 && favourites < kFavourites;
    if (favourite) ++favourites;
    list.push_back({{"code", choice.contents.code},
                    {"name", choice.contents.name},
                    {"items", joined(choice.contents.items)},
                    {"implant", choice.contents.implant},
                    {"kind", choice.usual_kind},
                    {"favourite", favourite},
                    {"chosen", choice.contents.code == chosen}});
  }
  return list;
}

View kinds_view(const std::vector<core::PackageKind>& kinds, std::string_view chosen) {
  View list = View::array();
  for (const core::PackageKind& kind : kinds) {
    list.push_back({{"code", kind.code}, {"name", kind.name}, {"chosen", kind.code == chosen}});
  }
  return list;
}

std::string standing_of(const Visit& visit, const app::LoadChoice& load) {
  if (!load.state) return visit.word("page.pack.load-next");
  return visit.word("page.pack.load-" + code_text(*load.state), {{"count", std::to_string(load.labelled)}});
}

View loads_view(const Visit& visit, const PackChoices& choices, std::string_view chosen) {
  View list = View::array();
  bool any = false;
  for (const app::SterilizerChoice& each : choices.sterilizers) {
    View loads = View::array();
    for (const app::LoadChoice& load : each.loads) {
      const bool is_chosen = chosen.empty() ? !any : load.name.text() == chosen;
      any = any || is_chosen;
      loads.push_back(
          {{"name", load.name.text()}, {"standing", standing_of(visit, load)}, {"chosen", is_chosen}});
    }
    list.push_back({{"code", each.sterilizer.code}, {"name", each.sterilizer.name}, {"loads", loads}});
  }
  return list;
}

std::string length_text(double millimetres) {
  const int tenths = static_cast<int>(millimetres * 10 + 0.5);
  const std::string whole = std::to_string(tenths / 10);
  return tenths % 10 == 0 ? whole : whole + "." + std::to_string(tenths % 10);
}

View templates_view(const Visit& visit) {
  View list = View::array();
  for (const auto& form : label_templates(visit.desk.world(), label::Subject::Package)) {
    list.push_back({{"name", form.name},
                    {"cells", std::to_string(form.grid.cells())},
                    {"sheet", form.grid.cells() > 1},
                    {"width", length_text(form.grid.cell_width)},
                    {"height", length_text(form.grid.cell_height)}});
  }
  return list;
}

View stocks_view(const std::vector<core::LabelStock>& stocks) {
  View list = View::array();
  for (const core::LabelStock& stock : stocks) list.push_back({{"code", stock.code}, {"name", stock.name}});
  return list;
}

View printers_view(const std::vector<app::OfficePrinter>& printers) {
  View list = View::array();
  for (const app::OfficePrinter& printer : printers) {
    list.push_back({{"name", printer.name},
                    {"stock", printer.stock},
                    {"state", "/pack/printers/state?name=" + url_escaped(printer.name)}});
  }
  return list;
}

View warnings_view(const Visit& visit, const std::vector<label::LayoutWarning>& warnings) {
  View list = View::array();
  for (const auto& warning : warnings) {
    list.push_back(visit.word("label.warning." + warning.code, warning.details));
  }
  return list;
}

// How far the last sheet of this template is used up; empty for rolls and for a sheet that is full.
std::string last_sheet_text(const Visit& visit, const app::LabelPreview& preview) {
  const auto office = visit.desk.office();
  if (!office || preview.cells < 2) return {};
  const auto last = app::last_cell_of((*office)->ports, preview.template_name);
  if (!last || !*last || **last % preview.cells == 0) return {};
  return visit.word("page.pack.last-sheet", {{"cell", std::to_string(**last % preview.cells)}});
}

Result<app::LabelPreview> preview_of(const Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return shop.failure();
  auto order = print_order(visit.request.head.query, visit.operator_code());
  if (!order) return order.failure();
  if (const auto name = visit.asked("printer"); !name.empty()) {
    const auto printer = app::find_printer((*office)->ports, name);
    if (!printer) return printer.failure();
    order->paper.stock = printer->stock;
  }
  return app::preview_labels((*office)->ports, (*shop)->shop, *order);
}

}  // namespace

Response pack_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto choices = app::pack_choices((*office)->ports);
  if (!choices) return visit.failed(choices.failure());
  const auto printers = app::list_printers((*office)->ports);
  if (!printers) return visit.failed(printers.failure());
  const std::string_view chosen = visit.asked("contents");
  View view{{"title", visit.word("page.pack.title")},
            {"at", "/pack"},
            {"contents", contents_view(choices->contents, chosen)},
            {"no_contents", choices->contents.empty()},
            {"kinds", kinds_view(choices->kinds, visit.asked("kind"))},
            {"sterilizers", loads_view(visit, *choices, visit.asked("load"))},
            {"no_sterilizers", choices->sterilizers.empty()},
            {"templates", templates_view(visit)},
            {"stocks", stocks_view(choices->stocks)},
            {"no_stocks", choices->stocks.empty()},
            {"printers", printers_view(*printers)},
            {"any_printers", !printers->empty()},
            {"print", visit.form_for("/pack/print")},
            {"old_label", visit.form_for("/pack/label")}};
  return visit.page("pages/pack", std::move(view));
}

Response pack_steps(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto steps = app::steps_for((*office)->ports, std::string{visit.asked("contents")},
                                    std::string{visit.asked("kind")});
  if (!steps) return visit.failed(steps.failure());
  View list = View::array();
  for (const core::PackingStep& step : *steps) list.push_back(visit.word("packing." + std::string{step.code}));
  return visit.json({{"steps", list}});
}

Response pack_old_label(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto old = app::packed_before((*office)->ports, std::string{visit.field("label").substr(0, 200)});
  if (!old) return visit.failed(old.failure());
  return visit.json({{"contents", old->contents}, {"kind", old->kind}});
}

Response pack_preview(Visit& visit) {
  const auto preview = preview_of(visit);
  if (!preview) return visit.failed(preview.failure());
  return visit.json({{"pages", preview->pages},
                     {"labels", preview->labels},
                     {"last_sheet", last_sheet_text(visit, *preview)},
                     {"text", visit.word("page.pack.preview-of", {{"count", std::string{visit.asked("count")}},
                                                                  {"pages", std::to_string(preview->pages)},
                                                                  {"template", preview->template_name},
                                                                  {"stock", preview->stock}})},
                     {"warnings", warnings_view(visit, preview->warnings)}});
}

Response pack_preview_picture(Visit& visit) {
  const auto preview = preview_of(visit);
  if (!preview) return visit.failed(preview.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  auto png = (*shop)->leaves.painter->paint(preview->page, kPreviewPixels);
  if (!png) return visit.failed(png.failure());
  return visit.file(std::move(*png), "image/png");
}

}  // namespace loadlight::web
