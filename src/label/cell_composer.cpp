#include "label/cell_composer.h"

#include <algorithm>
#include <cmath>

#include "label/text_check.h"
#include "loadlight/label/symbol_choice.h"

namespace loadlight::label {
namespace {

using core::Failure;
using core::FailureCode;

constexpr double kLeastHeadingPoints = 4;
constexpr double kGapUnderHeading = 0.3;  // of the heading's size
constexpr double kGapAfterHeading = 0.45;
constexpr double kSlack = 1e-6;  // millimetres

TextShape heading_shape(const FieldText& text) {
  TextShape shape;
  shape.size_pt = text.heading_pt;
  shape.min_pt = std::min(kLeastHeadingPoints, text.heading_pt);
  shape.align = text.shape.align;
  return shape;
}

std::string hundredths(double millimetres) {
  const auto whole = std::lround(millimetres * 100);
  const auto rest = whole % 100;
  return std::to_string(whole / 100) + (rest < 10 ? ".0" : ".") + std::to_string(rest);
}

std::string_view name_of(SymbolPayload payload) {
  return payload == SymbolPayload::ChartCopy ? "chart-symbol" : "symbol";
}

}  // namespace

std::string CellComposer::label_name() const {
  for (Field field : {Field::Package, Field::Location, Field::Contents}) {
    const auto value = content_.values.find(field);
    if (value != content_.values.end()) return value->second;
  }
  return "";
}

Failure CellComposer::named(Failure failure, std::string_view field) const {
  failure.details.emplace_back("field", std::string{field});
  failure.details.emplace_back("package", label_name());
  return failure;
}

core::Result<void> CellComposer::check_values() const {
  for (const auto& [field, value] : content_.values) {
    if (!is_label_text(value)) {
      return Failure{FailureCode::BadEncoding, {{"field", std::string{to_text(field)}}}, {}};
    }
  }
  for (Field field : all_fields()) {
    const auto value = content_.values.find(field);
    const bool filled = value != content_.values.end() && !value->second.empty();
    if (need_of(field, bench_.label_template.subject) == Need::Required && !filled) {
      return named({FailureCode::BadValue, {}, {}}, to_text(field));
    }
  }
  return check_shelf_life();
}

core::Result<void> CellComposer::check_shelf_life() const {
  int needed = 0;
  int filled = 0;
  for (Field field : all_fields()) {
    if (need_of(field, bench_.label_template.subject) != Need::ShelfLife) continue;
    needed = 1;
    filled += content_.values.count(field) > 0 && !content_.values.at(field).empty() ? 1 : 0;
  }
  if (needed == 1 && filled != 1) return named({FailureCode::BadValue, {}, {}}, to_text(Field::UseBy));
  return {};
}

core::Result<void> CellComposer::compose(PlacedLabel& placed) {
  if (auto good = check_values(); !good) return good;
  for (const Element& element : bench_.label_template.elements) {
    if (auto done = compose(element, placed); !done) return done;
  }
  return {};
}

core::Result<void> CellComposer::compose(const Element& element, PlacedLabel& placed) {
  if (const auto* text = std::get_if<FieldText>(&element.what)) return compose_field(element, *text);
  if (const auto* words = std::get_if<FixedWords>(&element.what)) return compose_words(element, *words);
  if (const auto* place = std::get_if<SymbolPlace>(&element.what)) {
    return compose_symbol(element, *place, placed);
  }
  const Box box = on_page(element.box);
  if (const auto* line = std::get_if<RuleLine>(&element.what)) {
    page_.items.emplace_back(DrawnLine{box.x, box.y, box.right(), box.bottom(), line->width_mm});
  } else if (const auto* frame = std::get_if<Frame>(&element.what)) {
    page_.items.emplace_back(DrawnFrame{box.x, box.y, box.width, box.height, frame->width_mm});
  }
  return {};
}

core::Result<std::string> CellComposer::words_of(std::string_view key) const {
  auto text = bench_.words(key, {});
  if (!text || !is_label_text(*text)) {
    return Failure{FailureCode::WordsUnreadable, {{"key", std::string{key}}}, {}};
  }
  return *std::move(text);
}

core::Result<void> CellComposer::compose_words(const Element& element, const FixedWords& words) {
  const auto text = words_of(words.key);
  if (!text) return text.failure();
  const auto set = set_text(*text, words.shape, on_page(element.box), words.key);
  return set ? core::Result<void>{} : set.failure();
}

core::Result<void> CellComposer::compose_field(const Element& element, const FieldText& text) {
  const auto value = content_.values.find(text.field);
  if (value == content_.values.end() || value->second.empty()) return {};
  switch (text.heading) {
    case Heading::Above:
      return set_under_heading(element, text, value->second);
    case Heading::Before:
      return set_after_heading(element, text, value->second);
    case Heading::None:
      break;
  }
  const auto set = set_text(value->second, text.shape, on_page(element.box), to_text(text.field));
  return set ? core::Result<void>{} : set.failure();
}

core::Result<void> CellComposer::set_under_heading(const Element& element, const FieldText& text,
                                                   std::string_view value) {
  const auto words = words_of(heading_key(text.field));
  if (!words) return words.failure();
  const TextShape shape = heading_shape(text);
  const Box box = on_page(element.box);
  const auto heading = fit_text(*words, shape, box.width, box.height, bench_.gauge);
  if (!heading) return named(heading.failure(), to_text(text.field));
  const double taken =
      *heading ? (*heading)->height + kGapUnderHeading * (*heading)->style.em_mm() : box.height + 1;
  const Box below{box.x, box.y + taken, box.width, box.height - taken};
  const auto set = set_text(value, text.shape, below, to_text(text.field));
  if (!set) return set.failure();
  if (!set->has_value()) return {};
  for (auto& drawn : set_in(**heading, box, shape.align, Upright::Top))
    page_.items.emplace_back(std::move(drawn));
  return {};
}

core::Result<void> CellComposer::set_after_heading(const Element& element, const FieldText& text,
                                                   std::string_view value) {
  const auto words = words_of(heading_key(text.field));
  if (!words) return words.failure();
  const TextStyle style{text.heading_pt, false, false};
  const auto heading = bench_.gauge.measure(*words, style);
  if (!heading) return named(heading.failure(), to_text(text.field));
  const Box box = on_page(element.box);
  const double taken = heading->width + kGapAfterHeading * style.em_mm();
  const Box after{box.x + taken, box.y, box.width - taken, box.height};
  const auto set = set_text(value, text.shape, after, to_text(text.field));
  if (!set) return set.failure();
  if (set->has_value()) page_.items.emplace_back(DrawnText{box.x, **set, style, heading->text});
  return {};
}

CellComposer::Set CellComposer::set_text(std::string_view text, const TextShape& shape, const Box& box,
                                         std::string_view name) {
  const auto block = fit_text(text, shape, box.width, box.height, bench_.gauge);
  if (!block) return named(block.failure(), name);
  if (!*block || leaves_page(box)) return no_room(shape, name);
  auto drawn = set_in(**block, box, shape.align, shape.upright);
  const double baseline = drawn.front().baseline;
  for (DrawnText& line : drawn) page_.items.emplace_back(std::move(line));
  return std::optional{baseline};
}

CellComposer::Set CellComposer::no_room(const TextShape& shape, std::string_view name) {
  if (!shape.optional) return named({FailureCode::FieldDoesNotFit, {}, {}}, name);
  warnings_.push_back({"left-out", {{"field", std::string{name}}, {"package", label_name()}}});
  return std::optional<double>{};
}

bool CellComposer::leaves_page(const Box& box) const {
  const Grid& grid = bench_.label_template.grid;
  return box.x < -kSlack || box.y < -kSlack || box.right() > grid.page_width + kSlack ||
         box.bottom() > grid.page_height + kSlack;
}

core::Result<void> CellComposer::compose_symbol(const Element& element, const SymbolPlace& place,
                                                PlacedLabel& placed) {
  const Box box = on_page(element.box);
  const bool chart = place.payload == SymbolPayload::ChartCopy;
  const std::string& text = chart ? content_.chart_payload : content_.payload;
  auto& form = chart ? placed.chart_form : placed.form;
  auto& dots = chart ? placed.chart_module_dots : placed.module_dots;
  form = chart ? content_.chart_form : content_.form;
  if (text.empty()) return named({FailureCode::BadValue, {}, {}}, name_of(place.payload));
  if (leaves_page(box)) return named({FailureCode::QuietZoneTooSmall, {}, {}}, name_of(place.payload));
  auto done = place_symbol(box, text, form, dots);
  return done ? std::move(done) : named(done.failure(), name_of(place.payload));
}

core::Result<void> CellComposer::place_symbol(const Box& box, std::string_view text,
                                              std::optional<core::SymbolForm>& form, int& dots) {
  const double side = std::min(box.width, box.height);
  const auto choice =
      form ? fit_symbol(*form, side, bench_.dpi) : choose_symbol(text.size(), side, bench_.dpi);
  if (!choice) return choice.failure();
  const auto mask = form ? std::optional{form->mask} : std::nullopt;
  auto grid = bench_.encoder.encode(text, choice->version, choice->level, mask);
  if (!grid) return grid.failure();
  form = grid->form;
  dots = choice->module_dots;
  if (!choice->sound(bench_.dpi)) {
    warnings_.push_back({"module-small",
                         {{"dots", std::to_string(dots)},
                          {"millimetres", hundredths(choice->module_millimetres(bench_.dpi))},
                          {"dpi", std::to_string(bench_.dpi)},
                          {"package", label_name()}}});
  }
  draw_symbol(box, *std::move(grid), dots);
  return {};
}

// Centred in its box, then moved to the nearest dots that keep the quiet zone inside it.
void CellComposer::draw_symbol(const Box& box, core::SymbolGrid grid, int module_dots) {
  const double dots_per_mm = bench_.dpi / kMillimetresPerInch;
  const int side = grid.form.side() * module_dots;
  const int quiet = core::kQuietZoneModules * module_dots;
  const auto start = [&](double low, double length) {
    const double centred = (low + length / 2) * dots_per_mm - side / 2.0;
    const double least = std::ceil(low * dots_per_mm - 1e-6) + quiet;
    const double most = std::floor((low + length) * dots_per_mm + 1e-6) - quiet - side;
    return static_cast<int>(std::clamp(std::round(centred), least, std::max(least, most)));
  };
  const int x = start(box.x, box.width);
  const int y = start(box.y, box.height);
  page_.items.emplace_back(DrawnSymbol{std::move(grid), bench_.dpi, x, y, module_dots});
}

}  // namespace loadlight::label
