#include "loadlight/app/preview_labels.h"

#include <algorithm>

#include "app/label_run.h"
#include "app/load_moves.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::string_view kSampleText = "SAMPLE - NOT A PACKAGE LABEL - ";
constexpr int kMostPackages = 500;

// An act that only reads: nothing of it can be written.
Result<Act> begin_look(const Ports& ports, const std::string& operator_code) {
  auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (*unit)->office();
  if (!office) return office.failure();
  const auto who = (*unit)->operators().find(operator_code);
  if (!who) return who.failure();
  if (!*who) return Failure{FailureCode::OperatorUnknown, {{"operator", operator_code}}, {}};
  const core::Instant now = ports.clock.now();
  return Act{std::move(*unit), *office, **who, now, ports.zone.local_date(now), false};
}

Result<label::LabelContent> sample_of(const Ports& ports, const PrintShop& shop, const Act& act,
                                      const PrintRequest& request, const Setting& setting) {
  const core::CivilDate date = request.process_date.value_or(act.today);
  const NewPackage what{request.load, date, request.operator_code, request.contents, request.kind};
  auto package = make_package(ports, act, what, setting.form.shows(label::SymbolPayload::ChartCopy));
  if (!package) return package.failure();
  package->payload = sample_payload(package->payload.size());
  package->chart_payload = sample_payload(package->chart_payload.size());
  auto content = content_of(*act.unit, shop, act.office, *package, false);
  if (content) content->values[label::Field::Package] = std::string{kSampleId};
  return content;
}

// Two strokes across a symbol, white with a black core, so that nobody takes the picture for a label.
void strike_out(const label::DrawnSymbol& symbol, std::vector<label::Drawn>& items) {
  const double dot = label::kMillimetresPerInch / symbol.dpi;
  const double left = symbol.x_dots * dot;
  const double top = symbol.y_dots * dot;
  const double side = symbol.grid.form.side() * symbol.module_dots * dot;
  const std::pair<double, double> corners[] = {
      {left, top}, {left + side, top + side}, {left + side, top}, {left, top + side}};
  for (int i = 0; i < 4; i += 2) {
    label::DrawnOutline stroke{{corners[i], corners[i + 1]}, side / 9, {}, false, label::Ink::White};
    items.emplace_back(stroke);
    stroke.stroke = side / 36;
    stroke.ink = label::Ink::Black;
    items.emplace_back(stroke);
  }
}

void strike_out(label::Page& page) {
  std::vector<label::Drawn> strokes;
  for (const label::Drawn& item : page.items) {
    if (const auto* symbol = std::get_if<label::DrawnSymbol>(&item)) strike_out(*symbol, strokes);
  }
  page.items.insert(page.items.end(), strokes.begin(), strokes.end());
}

// As many as the first page takes, and how many pages there will be.
LabelPreview counted(const Setting& setting, int count) {
  LabelPreview preview;
  const int cells = setting.form.grid.cells();
  const int first = std::clamp(setting.options.first_cell, 1, cells);
  preview.cells = cells;
  preview.labels = std::min(count, cells - first + 1);
  preview.pages = (first - 1 + count + cells - 1) / cells;
  preview.stock = setting.stock.code;
  preview.template_name = setting.form.name;
  return preview;
}

}  // namespace

std::string sample_payload(std::size_t length) {
  std::string text;
  while (text.size() < length) text += kSampleText;
  text.resize(length);
  return text;
}

Result<LabelPreview> preview_labels(const Ports& ports, const PrintShop& shop, const PrintRequest& request) {
  if (request.count < 1 || request.count > kMostPackages) {
    return Failure{
        FailureCode::BadValue, {{"field", "count"}, {"given", std::to_string(request.count)}}, {}};
  }
  const auto act = begin_look(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = usable_contents(*act->unit, request.contents); !ok) return ok.failure();
  if (const auto ok = usable_sterilizer(*act->unit, request.load.sterilizer); !ok) return ok.failure();
  if (const auto ok = number_for_labels(*act, request.load); !ok) return ok.failure();
  const auto setting = settle_paper(*act->unit, shop, request.paper, label::Subject::Package, true);
  if (!setting) return setting.failure();
  const auto sample = sample_of(ports, shop, *act, request, *setting);
  if (!sample) return sample.failure();
  LabelPreview preview = counted(*setting, request.count);
  const std::vector<label::LabelContent> labels(static_cast<std::size_t>(preview.labels), *sample);
  auto laid = label::lay_out(setting->form, labels, setting->options, shop.words, shop.gauge, shop.encoder);
  if (!laid) return laid.failure();
  preview.page = std::move(laid->pages.front());
  preview.warnings = std::move(laid->warnings);
  strike_out(preview.page);
  return preview;
}

}  // namespace loadlight::app
