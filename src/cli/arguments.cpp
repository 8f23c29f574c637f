#include "cli/arguments.h"

#include <charconv>
#include <cmath>

namespace loadlight::cli {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr int kMostCells = 100000;

std::string path_of(const CLI::App& app) {
  const CLI::App* parent = app.get_parent();
  if (!parent || !parent->get_parent()) return app.get_name();
  return path_of(*parent) + "." + app.get_name();
}

template <class Number>
std::optional<Number> number_in(std::string_view text) {
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

}  // namespace

CLI::App* add_verb(CLI::App& parent, const Context& context, const std::string& name) {
  CLI::App* verb = parent.add_subcommand(name);
  verb->description(context.text("help.verb." + path_of(*verb)));
  verb->fallthrough();
  return verb;
}

CLI::Option* add_flag(CLI::App& verb, const Context& context, const std::string& name, bool& value) {
  return verb.add_flag(name, value, context.text("help.option." + name.substr(name.find_first_not_of('-'))));
}

Failure bad_value(const std::string& option, const std::string& given, const std::string& known) {
  Failure failure{FailureCode::BadValue, {{"field", option}, {"given", given.substr(0, 200)}}, {}};
  if (!known.empty()) failure.details.emplace_back("known", known);
  return failure;
}

Result<core::LoadName> parse_load(const std::string& text) {
  const auto name = core::LoadName::parse(text);
  if (!name) return Failure{FailureCode::BadLoadName, {{"given", text.substr(0, 80)}}, {}};
  return *name;
}

Result<core::CivilDate> parse_date(const std::string& option, const std::string& text) {
  const auto date = core::CivilDate::parse_iso(text);
  if (!date) return Failure{FailureCode::BadDate, {{"field", option}, {"given", text.substr(0, 80)}}, {}};
  return *date;
}

Result<std::optional<core::CivilDate>> parse_optional_date(const std::string& option,
                                                           const std::string& text) {
  if (text.empty()) return std::optional<core::CivilDate>{};
  const auto date = parse_date(option, text);
  if (!date) return date.failure();
  return std::optional{*date};
}

Result<bool> parse_yes_no(const std::string& option, const std::string& text) {
  if (text == "yes") return true;
  if (text == "no") return false;
  return bad_value(option, text, "yes, no");
}

Result<Nudge> parse_nudge(const std::string& text) {
  if (text.empty()) return Nudge{};
  const auto comma = text.find(',');
  if (comma == std::string::npos) return bad_value("nudge", text);
  const auto x = number_in<double>(std::string_view{text}.substr(0, comma));
  const auto y = number_in<double>(std::string_view{text}.substr(comma + 1));
  if (!x || !y) return bad_value("nudge", text);
  return Nudge{std::round(*x * 1000) / 1000, std::round(*y * 1000) / 1000};
}

Result<app::PageSize> parse_paper(const std::string& text) {
  if (text == "A4") return app::PageSize::A4;
  if (text == "letter") return app::PageSize::Letter;
  return bad_value("paper", text, "A4, letter");
}

Result<std::vector<int>> parse_cells(const std::string& text) {
  std::vector<int> cells;
  std::string_view rest = text;
  while (!rest.empty()) {
    const auto part = rest.substr(0, rest.find(','));
    rest.remove_prefix(std::min(rest.size(), part.size() + 1));
    const auto dash = part.find('-');
    const auto first = number_in<int>(part.substr(0, dash));
    const auto last = dash == std::string_view::npos ? first : number_in<int>(part.substr(dash + 1));
    if (!first || !last || *first < 1 || *last < *first || *last > kMostCells)
      return bad_value("cells", text);
    if (cells.size() + static_cast<std::size_t>(*last - *first) >= kMostCells)
      return bad_value("cells", text);
    for (int cell = *first; cell <= *last; ++cell) cells.push_back(cell);
  }
  return cells;
}

}  // namespace loadlight::cli
