#include "loadlight/core/payload.h"

#include <algorithm>
#include <vector>

#include "loadlight/core/base32.h"

namespace loadlight::core {
namespace {

constexpr std::string_view kPackageStart = "LL1.";
constexpr std::string_view kChartStart = "LLC1.";
constexpr std::string_view kTagStart = "LLS1.";
constexpr std::string_view kBadgeStart = "LLO1.";

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

// "LL2.", "LLC14.": our beginning, an optional form letter, a number that is not 1.
bool is_later_form(std::string_view text) {
  if (!starts_with(text, "LL")) return false;
  text.remove_prefix(2);
  if (!text.empty() && std::string_view{"CSO"}.find(text.front()) != std::string_view::npos) {
    text.remove_prefix(1);
  }
  const auto dot = text.find('.');
  if (dot == std::string_view::npos || dot == 0 || dot > 3 || text.front() == '0') return false;
  const auto number = text.substr(0, dot);
  return number != "1" && std::all_of(number.begin(), number.end(),
                                      [](char c) { return c >= '0' && c <= '9'; });
}

// A text cut before its authenticator; nothing if it does not end in ".Z" and 13 base32 characters.
struct Cut final {
  std::string_view signed_part;
  std::string_view authenticator;
};

std::optional<Cut> cut_authenticator(std::string_view text) {
  if (text.size() > kLongestPayload || text.size() < kAuthenticatorLength + 2) return std::nullopt;
  const Cut cut{text.substr(0, text.size() - kAuthenticatorLength),
                text.substr(text.size() - kAuthenticatorLength)};
  if (cut.signed_part.substr(cut.signed_part.size() - 2) != ".Z") return std::nullopt;
  if (base32_normalized(cut.authenticator) != cut.authenticator) return std::nullopt;
  return cut;
}

// Reads fields off the front of a text, in the order of the grammar.
class FieldReader final {
 public:
  explicit FieldReader(std::string_view text) : rest_(text) {}

  // The field that begins with `identifier`, up to the next '.', or nothing (and nothing is consumed).
  std::optional<std::string_view> take(std::string_view identifier) {
    if (!starts_with(rest_, identifier)) return std::nullopt;
    const auto end = std::min(rest_.find('.'), rest_.size());
    const auto field = rest_.substr(identifier.size(), end - identifier.size());
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    return field;
  }

  std::optional<std::string> take_code(std::string_view identifier, std::size_t longest) {
    const auto field = take(identifier);
    if (!field || !is_code(*field, longest)) return std::nullopt;
    return std::string{*field};
  }

  std::optional<CivilDate> take_date(std::string_view identifier) {
    const auto field = take(identifier);
    return field ? CivilDate::parse_basic(*field) : std::nullopt;
  }

  bool next_is(std::string_view identifier) const { return starts_with(rest_, identifier); }
  bool at_end() const { return rest_.empty(); }

 private:
  std::string_view rest_;
};

std::optional<LabelFields> parse_fields(std::string_view text) {
  FieldReader reader{text};
  const auto package = PackageId::parse_exact(reader.take("S").value_or(""));
  const auto load = LoadName::parse(reader.take("1T").value_or(""));
  const auto processed = reader.take_date("16D");
  const bool has_use_by = reader.next_is("14D");
  const auto use_by = has_use_by ? reader.take_date("14D") : std::nullopt;
  const auto who = reader.take_code("H", kOperatorCodeLength);
  const auto contents = reader.take_code("P", kContentsCodeLength);
  const auto kind = reader.take_code("B", kKindCodeLength);
  if (!package || !load || !processed || (has_use_by && !use_by) || !who || !contents || !kind ||
      !reader.at_end()) {
    return std::nullopt;
  }
  return LabelFields{*package, *load, *processed, use_by, *who, *contents, *kind};
}

// The middle of a signed part: without its beginning and without ".Z".
std::string_view middle(std::string_view signed_part, std::string_view start) {
  signed_part.remove_prefix(std::min(start.size(), signed_part.size()));
  signed_part.remove_suffix(std::min<std::size_t>(2, signed_part.size()));
  return signed_part;
}

PayloadText parse_package_label(std::string_view text) {
  const auto cut = cut_authenticator(text);
  if (!cut) return NotOursText{};
  // Canonical or not ours: a field sequence has exactly one spelling.
  const auto fields = parse_fields(middle(cut->signed_part, kPackageStart));
  if (!fields || unsigned_payload(LabelForm::Package, *fields) != cut->signed_part) return NotOursText{};
  return PackageLabelText{*fields, std::string{cut->signed_part}, std::string{cut->authenticator}};
}

template <class Text>
PayloadText parse_single(std::string_view text, std::string_view start, std::string_view identifier,
                         std::size_t longest) {
  const auto cut = cut_authenticator(text);
  if (!cut) return NotOursText{};
  const std::string_view field = middle(cut->signed_part, start);
  const auto code = FieldReader{field}.take_code(identifier, longest);
  if (!code || field.size() != identifier.size() + code->size()) return NotOursText{};
  return Text{*code, std::string{cut->signed_part}, std::string{cut->authenticator}};
}

}  // namespace

std::string unsigned_payload(LabelForm form, const LabelFields& fields) {
  std::string text{form == LabelForm::Package ? kPackageStart : kChartStart};
  text += "S" + fields.package.text() + ".1T" + fields.load.text() + ".16D" + fields.process_date.basic();
  if (fields.use_by) text += ".14D" + fields.use_by->basic();
  text += ".H" + fields.operator_code + ".P" + fields.contents + ".B" + fields.kind + ".Z";
  return text;
}

std::string unsigned_shelf_tag(std::string_view location) {
  return std::string{kTagStart} + "L" + std::string{location} + ".Z";
}

std::string unsigned_badge(std::string_view operator_code) {
  return std::string{kBadgeStart} + "H" + std::string{operator_code} + ".Z";
}

PayloadText parse_payload(std::string_view text) {
  if (starts_with(text, kPackageStart)) return parse_package_label(text);
  if (starts_with(text, kChartStart)) return ChartCopyText{};
  if (starts_with(text, kTagStart)) {
    return parse_single<ShelfTagText>(text, kTagStart, "L", kLocationCodeLength);
  }
  if (starts_with(text, kBadgeStart)) {
    return parse_single<BadgeText>(text, kBadgeStart, "H", kOperatorCodeLength);
  }
  if (is_later_form(text)) return LaterFormText{};
  return NotOursText{};
}

}  // namespace loadlight::core
