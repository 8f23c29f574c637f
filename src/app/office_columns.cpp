#include "app/office_columns.h"

#include <algorithm>
#include <charconv>

namespace loadlight::app {
namespace {

using core::CivilDate;

constexpr std::size_t kLongestText = 200;  // bytes

// Texts a person reads: not empty, bounded, no control characters.
bool set_text(std::string& place, std::string_view text) {
  const bool clean = std::none_of(text.begin(), text.end(),
                                  [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
  if (text.empty() || text.size() > kLongestText || !clean) return false;
  place = text;
  return true;
}

bool set_flag(bool& place, std::string_view text) {
  if (text != "yes" && text != "no") return false;
  place = text == "yes";
  return true;
}

bool set_code(std::string& place, std::string_view text, std::size_t longest) {
  place = text;
  return core::is_code(text, longest);
}

template <class E>
bool set_term(E& place, std::string_view text) {
  const auto value = core::parse<E>(text);
  if (value) place = *value;
  return value.has_value();
}

bool set_date(std::optional<CivilDate>& place, std::string_view text) {
  place = CivilDate::parse_iso(text);
  return place.has_value();
}

bool set_items(std::vector<std::string>& place, std::string_view text) {
  place.clear();
  while (!text.empty()) {
    const auto end = std::min(text.find(';'), text.size());
    auto item = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    while (!item.empty() && item.front() == ' ') item.remove_prefix(1);
    while (!item.empty() && item.back() == ' ') item.remove_suffix(1);
    if (item.empty()) continue;
    if (place.size() == 100 || !set_text(place.emplace_back(), item)) return false;
  }
  return true;
}

bool set_dpi(int& place, std::string_view text) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), place);
  return error == std::errc{} && end == text.data() + text.size() && place >= 100 && place <= 1200;
}

bool set_number(double& place, std::string_view text, double least, double most) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), place);
  return error == std::errc{} && end == text.data() + text.size() && place >= least && place <= most;
}

bool set_day(CivilDate& place, std::string_view text) {
  const auto day = CivilDate::parse_iso(text);
  if (day) place = *day;
  return day.has_value();
}

// Lots are whatever their makers print.
bool set_lot(std::string& place, std::string_view text) { return text.size() <= 40 && set_text(place, text); }

std::string number(double value) {
  char digits[32];
  return {digits, std::to_chars(digits, digits + sizeof digits, value).ptr};
}

std::string flag(bool value) { return value ? "yes" : "no"; }
std::string date(const std::optional<CivilDate>& day) { return day ? day->iso() : ""; }
template <class E>
std::string term(E value) {
  return std::string{core::to_text(value)};
}

std::string joined(const std::vector<std::string>& items) {
  std::string text;
  for (const std::string& item : items) text += (text.empty() ? "" : "; ") + item;
  return text;
}

// The texts of an enumeration.
template <class E>
std::span<const std::string_view> terms_of() {
  static const std::vector<std::string_view> texts = [] {
    std::vector<std::string_view> list;
    for (const auto& each : core::Vocabulary<E>::kTerms) list.push_back(each.text);
    return list;
  }();
  return texts;
}

// No set function: the column is shown, not entered.
template <class E>
constexpr bool (*kShownOnly)(E&, std::string_view) = nullptr;

#define COLUMN(Entry, name, required, yes_or_no, setter, getter)                        \
  EntryColumn<Entry> {                                                                  \
    {name, required, yes_or_no}, [](Entry& e, std::string_view t) -> bool { return setter; }, \
        [](const Entry& e) -> std::string { return getter; }                            \
  }
#define TERM_COLUMN(Entry, name, required, member)                                        \
  EntryColumn<Entry> {                                                                    \
    {name, required, false, false, terms_of<decltype(Entry::member)>()},                  \
        [](Entry& e, std::string_view t) -> bool { return set_term(e.member, t); },       \
        [](const Entry& e) -> std::string { return term(e.member); }                      \
  }
#define DAY_COLUMN(Entry, name, required, setter, getter)                                 \
  EntryColumn<Entry> {                                                                    \
    {name, required, false, true}, [](Entry& e, std::string_view t) -> bool { return setter; }, \
        [](const Entry& e) -> std::string { return getter; }                              \
  }
#define SHOWN(Entry, name, getter)                                                              \
  EntryColumn<Entry> {                                                                          \
    {name, false, false}, kShownOnly<Entry>, [](const Entry& e) -> std::string { return getter; } \
  }

using core::Consumable;
using core::Contents;
using core::LabelStock;
using core::Location;
using core::OfficeProgram;
using core::Operator;
using core::PackageKind;
using core::Sterilizer;

bool set_first_day(Operator& e, std::string_view t) {
  const auto day = CivilDate::parse_iso(t);
  if (day) e.first_day = *day;
  return day.has_value();
}

const EntryColumn<Operator> kOperator[] = {
    COLUMN(Operator, "code", true, false, set_code(e.code, t, core::kOperatorCodeLength), e.code),
    COLUMN(Operator, "name", true, false, set_text(e.name, t), e.name),
    TERM_COLUMN(Operator, "role", false, role),
    DAY_COLUMN(Operator, "first_day", false, set_first_day(e, t), e.first_day.iso()),
    DAY_COLUMN(Operator, "last_day", false, set_date(e.last_day, t), date(e.last_day)),
};
const EntryColumn<Sterilizer> kSterilizer[] = {
    COLUMN(Sterilizer, "code", true, false, set_code(e.code, t, core::kSterilizerCodeLength), e.code),
    COLUMN(Sterilizer, "name", true, false, set_text(e.name, t), e.name),
    TERM_COLUMN(Sterilizer, "removal", true, removal),
    TERM_COLUMN(Sterilizer, "type", true, type),
    SHOWN(Sterilizer, "in_service", flag(e.in_service)),
    SHOWN(Sterilizer, "retired_on", date(e.retired_on)),
};
const EntryColumn<Contents> kContents[] = {
    COLUMN(Contents, "code", true, false, set_code(e.code, t, core::kContentsCodeLength), e.code),
    COLUMN(Contents, "name", true, false, set_text(e.name, t), e.name),
    COLUMN(Contents, "items", false, false, set_items(e.items, t), joined(e.items)),
    COLUMN(Contents, "implant", false, true, set_flag(e.implant, t), flag(e.implant)),
    COLUMN(Contents, "hinged", false, true, set_flag(e.hinged, t), flag(e.hinged)),
    COLUMN(Contents, "not_stainless", false, true, set_flag(e.not_stainless, t), flag(e.not_stainless)),
    COLUMN(Contents, "hollow", false, true, set_flag(e.hollow, t), flag(e.hollow)),
    SHOWN(Contents, "retired_on", date(e.retired_on)),
};
const EntryColumn<PackageKind> kKind[] = {
    COLUMN(PackageKind, "code", true, false, set_code(e.code, t, core::kKindCodeLength), e.code),
    COLUMN(PackageKind, "name", true, false, set_text(e.name, t), e.name),
    TERM_COLUMN(PackageKind, "wrapping", true, wrapping),
    SHOWN(PackageKind, "retired_on", date(e.retired_on)),
};
const EntryColumn<Location> kLocation[] = {
    COLUMN(Location, "code", true, false, set_code(e.code, t, core::kLocationCodeLength), e.code),
    COLUMN(Location, "name", true, false, set_text(e.name, t), e.name),
    SHOWN(Location, "retired_on", date(e.retired_on)),
};
const EntryColumn<LabelStock> kStock[] = {
    COLUMN(LabelStock, "code", true, false, set_code(e.code, t, core::kStockCodeLength), e.code),
    COLUMN(LabelStock, "name", true, false, set_text(e.name, t), e.name),
    TERM_COLUMN(LabelStock, "method", true, method),
    COLUMN(LabelStock, "dpi", true, false, set_dpi(e.dpi, t), std::to_string(e.dpi)),
    TERM_COLUMN(LabelStock, "rating", false, rating),
    COLUMN(LabelStock, "rating_note", false, false, set_text(e.rating_note, t), e.rating_note),
    SHOWN(LabelStock, "retired_on", date(e.retired_on)),
};
const EntryColumn<OfficeProgram> kProgram[] = {
    COLUMN(OfficeProgram, "code", true, false, set_code(e.code, t, core::kProgramCodeLength), e.code),
    COLUMN(OfficeProgram, "name", true, false, set_text(e.name, t), e.name),
    COLUMN(OfficeProgram, "sterilizer", true, false,
           set_code(e.sterilizer, t, core::kSterilizerCodeLength), e.sterilizer),
    TERM_COLUMN(OfficeProgram, "load_kind", true, load_kind),
    COLUMN(OfficeProgram, "celsius", true, false, set_number(e.celsius, t, 100, 140), number(e.celsius)),
    COLUMN(OfficeProgram, "exposure_minutes", true, false, set_number(e.exposure_minutes, t, 0.1, 120),
           number(e.exposure_minutes)),
    COLUMN(OfficeProgram, "drying_minutes", true, false, set_number(e.drying_minutes, t, 0, 120),
           number(e.drying_minutes)),
    COLUMN(OfficeProgram, "document", true, false, set_text(e.document, t), e.document),
    COLUMN(OfficeProgram, "page", true, false, set_text(e.page, t), e.page),
    SHOWN(OfficeProgram, "entered_by", e.entered_by),
    SHOWN(OfficeProgram, "accepted_by", e.accepted_by),
    SHOWN(OfficeProgram, "retired_on", date(e.retired_on)),
};
const EntryColumn<Consumable> kConsumable[] = {
    COLUMN(Consumable, "lot", true, false, set_lot(e.lot, t), e.lot),
    TERM_COLUMN(Consumable, "kind", true, kind),
    COLUMN(Consumable, "name", true, false, set_text(e.name, t), e.name),
    DAY_COLUMN(Consumable, "expires", true, set_day(e.expires, t), e.expires.iso()),
    SHOWN(Consumable, "retired_on", date(e.retired_on)),
};
#undef COLUMN
#undef TERM_COLUMN
#undef DAY_COLUMN
#undef SHOWN

template <class E, std::size_t N>
std::vector<Column> columns_in(const EntryColumn<E> (&table)[N]) {
  std::vector<Column> columns;
  for (const auto& row : table) {
    if (row.set) columns.push_back(row.column);
  }
  return columns;
}

template <class E>
std::span<const EntryColumn<E>> table_of();
template <>
std::span<const EntryColumn<Operator>> table_of() { return kOperator; }
template <>
std::span<const EntryColumn<Sterilizer>> table_of() { return kSterilizer; }
template <>
std::span<const EntryColumn<Contents>> table_of() { return kContents; }
template <>
std::span<const EntryColumn<PackageKind>> table_of() { return kKind; }
template <>
std::span<const EntryColumn<Location>> table_of() { return kLocation; }
template <>
std::span<const EntryColumn<LabelStock>> table_of() { return kStock; }
template <>
std::span<const EntryColumn<OfficeProgram>> table_of() { return kProgram; }
template <>
std::span<const EntryColumn<Consumable>> table_of() { return kConsumable; }

// What one column cannot see alone.
void check_whole(const LabelStock& stock, std::vector<RowProblem>& problems) {
  if (stock.rating != core::SteamRating::Unrated && stock.rating_note.empty()) {
    problems.push_back({"rating-needs-note", "rating_note", ""});
  }
}
void check_whole(const Operator& who, std::vector<RowProblem>& problems) {
  if (who.last_day && *who.last_day < who.first_day) {
    problems.push_back({"bad-value", "last_day", who.last_day->iso()});
  }
}
template <class E>
void check_whole(const E&, std::vector<RowProblem>&) {}

void set_defaults(Operator& who, CivilDate today) { who.first_day = today; }
template <class E>
void set_defaults(E&, CivilDate) {}

}  // namespace

const TableText& text_of(OfficeTable table) {
  static const std::vector<Column> columns[] = {columns_in(kOperator), columns_in(kSterilizer),
                                                columns_in(kContents), columns_in(kKind),
                                                columns_in(kLocation), columns_in(kStock),
                                                columns_in(kProgram),  columns_in(kConsumable)};
  static const TableText texts[] = {{"operator", columns[0]}, {"sterilizer", columns[1]},
                                    {"contents", columns[2]}, {"kind", columns[3]},
                                    {"location", columns[4]}, {"stock", columns[5]},
                                    {"program", columns[6]},  {"consumable", columns[7]}};
  return texts[static_cast<std::size_t>(table)];
}

template <class Entry>
Entry parse_row(const Row& row, CivilDate today, std::vector<RowProblem>& problems) {
  Entry entry;
  set_defaults(entry, today);
  for (const EntryColumn<Entry>& each : table_of<Entry>()) {
    if (!each.set) continue;
    const auto cell = std::find_if(row.begin(), row.end(),
                                   [&](const auto& pair) { return pair.first == each.column.name; });
    if (cell == row.end() || cell->second.empty()) {
      if (each.column.required) problems.push_back({"missing", each.column.name, ""});
    } else if (!each.set(entry, cell->second)) {
      problems.push_back({"bad-value", each.column.name, cell->second.substr(0, 80)});
    }
  }
  check_whole(entry, problems);
  return entry;
}

template <class Entry>
Row to_row(const Entry& entry) {
  Row row;
  for (const EntryColumn<Entry>& each : table_of<Entry>()) {
    row.emplace_back(each.column.name, each.get(entry));
  }
  return row;
}

#define INSTANTIATE(Entry)                                                             \
  template Entry parse_row<Entry>(const Row&, CivilDate, std::vector<RowProblem>&); \
  template Row to_row<Entry>(const Entry&);
INSTANTIATE(Operator)
INSTANTIATE(Sterilizer)
INSTANTIATE(Contents)
INSTANTIATE(PackageKind)
INSTANTIATE(Location)
INSTANTIATE(LabelStock)
INSTANTIATE(OfficeProgram)
INSTANTIATE(Consumable)
#undef INSTANTIATE

}  // namespace loadlight::app
