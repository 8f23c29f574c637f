#include "loadlight/label/fields.h"

#include <array>

namespace loadlight::label {
namespace {

struct FieldRow final {
  Field field;
  std::string_view code;
  std::array<Need, 4> needs;  // by Subject
};

constexpr FieldRow kFields[] = {
#define ROW(name, code, package, shelf_tag, tray_card, badge) \
  {Field::name, code, {Need::package, Need::shelf_tag, Need::tray_card, Need::badge}},
    LOADLIGHT_LABEL_FIELDS(ROW)
#undef ROW
};

const FieldRow& row_of(Field field) {
  return kFields[static_cast<std::size_t>(field)];
}

}  // namespace

std::string_view to_text(Subject subject) {
  switch (subject) {
    case Subject::Package:
      return "package";
    case Subject::ShelfTag:
      return "shelf-tag";
    case Subject::TrayCard:
      return "tray-card";
    case Subject::Badge:
      return "badge";
  }
  return "package";
}

std::optional<Subject> parse_subject(std::string_view text) {
  for (auto subject : {Subject::Package, Subject::ShelfTag, Subject::TrayCard, Subject::Badge}) {
    if (to_text(subject) == text) return subject;
  }
  return std::nullopt;
}

std::string_view to_text(Field field) {
  return row_of(field).code;
}

std::optional<Field> parse_field(std::string_view code) {
  for (const FieldRow& row : kFields) {
    if (row.code == code) return row.field;
  }
  return std::nullopt;
}

std::vector<Field> all_fields() {
  std::vector<Field> fields;
  for (const FieldRow& row : kFields) fields.push_back(row.field);
  return fields;
}

Need need_of(Field field, Subject subject) {
  return row_of(field).needs[static_cast<std::size_t>(subject)];
}

std::string heading_key(Field field) {
  return "label.heading." + std::string{to_text(field)};
}

}  // namespace loadlight::label
