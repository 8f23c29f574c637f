#include "web/print_order.h"

#include <charconv>
#include <cmath>

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Failure bad_value(std::string_view field, std::string_view given) {
  return {FailureCode::BadValue,
          {{"field", std::string{field}}, {"given", std::string{given.substr(0, 60)}}},
          {}};
}

Result<int> number_of(const Fields& fields, std::string_view name, int otherwise) {
  const std::string_view text = fields.value(name);
  if (text.empty()) return otherwise;
  const auto number = whole_number(text);
  if (!number) return bad_value(name, text);
  return *number;
}

// Millimetres, with a point or a comma.
Result<double> length_of(const Fields& fields, std::string_view name) {
  std::string text{fields.value(name)};
  if (text.empty()) return 0.0;
  for (char& c : text) c = c == ',' ? '.' : c;
  double value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size() || !std::isfinite(value)) {
    return bad_value(name, text);
  }
  return value;
}

std::optional<std::string> text_of(const Fields& fields, std::string_view name) {
  const std::string_view text = fields.value(name);
  return text.empty() ? std::nullopt : std::optional{std::string{text}};
}

}  // namespace

std::optional<int> whole_number(std::string_view text) {
  int number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool whole = read.ec == std::errc{} && read.ptr == text.data() + text.size();
  return whole ? std::optional{number} : std::nullopt;
}

Result<app::Paper> paper_of(const Fields& fields) {
  app::Paper paper;
  paper.template_name = text_of(fields, "template");
  paper.stock = text_of(fields, "stock");
  const auto cell = number_of(fields, "first_cell", 1);
  if (!cell) return cell.failure();
  const auto x = length_of(fields, "nudge_x");
  if (!x) return x.failure();
  const auto y = length_of(fields, "nudge_y");
  if (!y) return y.failure();
  paper.first_cell = *cell;
  paper.nudge_x = *x;
  paper.nudge_y = *y;
  return paper;
}

Result<app::PrintRequest> print_order(const Fields& fields, const std::string& operator_code) {
  const auto load = core::LoadName::parse(fields.value("load"));
  if (!load) {
    return Failure{FailureCode::BadLoadName, {{"given", std::string{fields.value("load").substr(0, 60)}}}, {}};
  }
  const auto count = number_of(fields, "count", 1);
  if (!count) return count.failure();
  auto paper = paper_of(fields);
  if (!paper) return paper.failure();
  return app::PrintRequest{operator_code,
                           std::string{fields.value("contents")},
                           *count,
                           *load,
                           std::string{fields.value("kind")},
                           std::nullopt,
                           fields.value("packed") == "yes",
                           std::move(*paper)};
}

}  // namespace loadlight::web
