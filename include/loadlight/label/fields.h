// The fields a label can show: one row each. A template names a field by its code; its heading is the
// words key "label.heading.<code>".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadlight::label {

// What a template is for.
enum class Subject { Package, ShelfTag, TrayCard, Badge };

std::string_view to_text(Subject subject);  // "package", "shelf-tag", "tray-card", "badge"
std::optional<Subject> parse_subject(std::string_view text);

// Whether a label of some subject must show a field.
enum class Need {
  Optional,
  Required,   // every template places it and every label fills it
  ShelfLife,  // every template places both such fields; every label fills exactly one of them
};

// Columns: enumerator, code, need on a package, on a shelf tag, on a tray card, on a badge.
//
// What a package must show: sterilizer, load number, date, expiry if any (CDC dental FAQ "Packaging &
// Storage"); the operator and the contents, and either a use-by date or the statement of event-related
// shelf life (OSAP FAQ 2015, table 16-5). The package id is ours: it is typed when the symbol is torn.
#define LOADLIGHT_LABEL_FIELDS(ROW)                                           \
  ROW(Contents, "contents", Required, Optional, Required, Optional)           \
  ROW(Items, "items", Optional, Optional, Optional, Optional)                 \
  ROW(Operator, "operator", Required, Optional, Required, Required)           \
  ROW(Sterilizer, "sterilizer", Required, Optional, Required, Optional)       \
  ROW(Load, "load", Required, Optional, Required, Optional)                   \
  ROW(ProcessDate, "process-date", Required, Optional, Required, Optional)    \
  ROW(UseBy, "use-by", ShelfLife, Optional, Optional, Optional)               \
  ROW(EventRelated, "event-related", ShelfLife, Optional, Optional, Optional) \
  ROW(Package, "package", Required, Optional, Optional, Optional)             \
  ROW(Kind, "kind", Optional, Optional, Optional, Optional)                   \
  ROW(Count, "count", Optional, Optional, Required, Optional)                 \
  ROW(Office, "office", Optional, Optional, Optional, Optional)               \
  ROW(Location, "location", Optional, Required, Optional, Optional)           \
  ROW(LocationName, "location-name", Optional, Optional, Optional, Optional)  \
  ROW(OperatorName, "operator-name", Optional, Optional, Optional, Optional)

enum class Field {
#define ROW(name, code, package, shelf_tag, tray_card, badge) name,
  LOADLIGHT_LABEL_FIELDS(ROW)
#undef ROW
};

std::string_view to_text(Field field);  // its code
std::optional<Field> parse_field(std::string_view code);
std::vector<Field> all_fields();
Need need_of(Field field, Subject subject);
std::string heading_key(Field field);

}  // namespace loadlight::label
