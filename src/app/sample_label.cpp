#include "loadlight/app/sample_label.h"

#include <algorithm>

#include "loadlight/app/preview_labels.h"
#include "loadlight/core/payload.h"

namespace loadlight::app {
namespace {

using core::Result;
using label::Field;

constexpr int kMostShown = 60;  // cells: a grid may have any number

// Every field but event-related: a label shows it or use-by.
constexpr Field kShown[] = {Field::Contents,     Field::Items,    Field::Operator, Field::Sterilizer,
                            Field::Load,         Field::ProcessDate, Field::UseBy, Field::Kind,
                            Field::Count,        Field::Office,   Field::Location, Field::LocationName,
                            Field::OperatorName};

label::LabelContent sample_of(const PrintShop& shop) {
  label::LabelContent content;
  for (const Field field : kShown) {
    const auto text = shop.words("sample-label." + std::string{label::to_text(field)}, {});
    if (text) content.values[field] = *text;
  }
  content.values[Field::Package] = std::string{kSampleId};
  content.payload = sample_payload(core::kLongestPayload);
  content.chart_payload = content.payload;
  return content;
}

}  // namespace

Result<label::Page> sample_label(const PrintShop& shop, const SampleRequest& request) {
  const auto shown = static_cast<std::size_t>(std::clamp(request.form.grid.cells(), 1, kMostShown));
  const std::vector<label::LabelContent> labels(shown, sample_of(shop));
  label::LayoutOptions options;
  options.dpi = request.dpi;
  auto laid = label::lay_out(request.form, labels, options, shop.words, shop.gauge, shop.encoder);
  if (!laid) return laid.failure();
  return std::move(laid->pages.front());
}

Result<std::string> print_test_page(const PrintShop& shop, const TestPageRequest& request, core::Instant now) {
  const auto page =
      label::lay_out_test_page(request.form, request.nudge_x, request.nudge_y, shop.words, shop.gauge);
  if (!page) return page.failure();
  return shop.press.print({*page}, now);
}

}  // namespace loadlight::app
