#include <algorithm>
#include <charconv>

#include "loadlight/app/open_office.h"
#include "loadlight/app/sample_label.h"
#include "web/form_values.h"
#include "web/label_templates.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr int kPreviewPixels = 900;
constexpr int kDpi = 300;
constexpr std::size_t kLargestTemplate = 64u << 10;  // bytes

struct SubjectText final {
  label::Subject subject;
  std::string_view name;
};
constexpr SubjectText kSubjects[] = {{label::Subject::Package, "package"},
                                     {label::Subject::ShelfTag, "shelf-tag"},
                                     {label::Subject::TrayCard, "tray-card"},
                                     {label::Subject::Badge, "badge"}};

View templates_of(const Visit& visit) {
  View list = View::array();
  for (const auto& [subject, name] : kSubjects) {
    for (const label::LabelTemplate& form : label_templates(visit.desk.world(), subject)) {
      const std::string file = url_escaped(form.name);
      list.push_back({{"name", form.name},
                      {"for", visit.word("page.labels.for-" + std::string{name})},
                      {"cells", std::to_string(form.grid.cells())},
                      {"picture", "/set-up/labels/picture?template=" + file},
                      {"test_page", "/set-up/labels/test-page?template=" + file},
                      {"edit", "/set-up/labels?template=" + file + "#try"}});
    }
  }
  return list;
}

// The text of a template that is there.
Result<std::string> text_of_template(const Visit& visit, std::string_view name) {
  const app::World& world = visit.desk.world();
  const auto form = app::find_template(world, name);
  if (!form) return form.failure();
  return world.files.read(world.templates_folder + "/labels/" + form->name + ".label", kLargestTemplate);
}

Response picture_of(Visit& visit, const label::LabelTemplate& form) {
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const auto page = app::sample_label((*shop)->shop, {form, kDpi});
  if (!page) return visit.failed(page.failure());
  auto png = (*shop)->leaves.painter->paint(*page, kPreviewPixels);
  return png ? visit.file(std::move(*png), "image/png") : visit.failed(png.failure());
}

// Millimetres that were asked for in the address; 0 when none were.
Result<double> nudge_of(const Visit& visit, std::string_view name) {
  if (visit.asked(name).empty()) return 0.0;
  std::string text{visit.asked(name).substr(0, 20)};
  std::replace(text.begin(), text.end(), ',', '.');
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size()) return bad_field(name, text);
  return number;
}

}  // namespace

Response labels_page(Visit& visit) {
  View view{{"title", visit.word("page.set-up.labels")},
            {"at", "/set-up"},
            {"templates", templates_of(visit)},
            {"try", visit.form_for("/set-up/labels/try")}};
  const std::string_view asked = visit.asked("template");
  const auto text = text_of_template(visit, asked.empty() ? "a4-24" : asked);
  if (!text) return visit.failed(text.failure());
  view["text"] = *text;
  return visit.page("pages/labels", std::move(view));
}

Response label_picture(Visit& visit) {
  const auto form = app::find_template(visit.desk.world(), visit.asked("template"));
  return form ? picture_of(visit, *form) : visit.failed(form.failure());
}

Response try_template(Visit& visit) {
  const auto form = label::parse_template(visit.word("page.labels.tried"), visit.field("text"));
  return form ? picture_of(visit, *form) : visit.failed(form.failure());
}

Response label_test_page(Visit& visit) {
  const auto form = app::find_template(visit.desk.world(), visit.asked("template"));
  if (!form) return visit.failed(form.failure());
  const auto x = nudge_of(visit, "x");
  if (!x) return visit.failed(x.failure());
  const auto y = nudge_of(visit, "y");
  if (!y) return visit.failed(y.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  auto pdf = app::print_test_page((*shop)->shop, {*form, *x, *y}, visit.desk.world().clock.now());
  return pdf ? visit.file(std::move(*pdf), "application/pdf", "test-page-" + form->name + ".pdf")
             : visit.failed(pdf.failure());
}

}  // namespace loadlight::web
