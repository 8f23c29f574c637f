#include "table_shape.h"

#include <utility>


namespace loadlight::store {
namespace {

// "a, b, c": what `text(i)` says for each i under `count`.
template <class Text>
std::string list(std::size_t count, Text text) {
  std::string joined;
  for (std::size_t i = 0; i < count; ++i) joined.append(i == 0 ? "" : ", ").append(text(i));
  return joined;
}

std::string parameters(std::size_t count) {
  return list(count, [](std::size_t i) { return "$" + std::to_string(i + 1); });
}

std::string update_clause(const std::vector<ColumnShape>& columns) {
  std::string assignments;
  for (const ColumnShape& column : columns) {
    if (column.key) continue;
    assignments.append(assignments.empty() ? "" : ", ").append(column.name + " = excluded." + column.name);
  }
  return " DO UPDATE SET " + assignments;
}

std::string key_text(const SqlValue& value) {
  if (const auto* number = std::get_if<std::int64_t>(&value)) return std::to_string(*number);
  const auto* text = std::get_if<std::string>(&value);
  return text ? *text : "?";
}

}  // namespace

TableShape::TableShape(std::string name, std::string noun, std::vector<ColumnShape> columns,
                       std::vector<TableConstraint> constraints, std::vector<TableIndex> indexes)
    : name_(std::move(name)),
      noun_(std::move(noun)),
      columns_(std::move(columns)),
      constraints_(std::move(constraints)),
      indexes_(std::move(indexes)) {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].key) keys_.push_back(i);
  }
  const auto column_name = [this](std::size_t i) { return columns_[i].name; };
  const std::string names = list(columns_.size(), column_name);
  const std::string keys = key_names();
  const std::string batch = " ORDER BY " + keys + " LIMIT " + std::to_string(kBatch);

  insert_ = "INSERT INTO " + name_ + " (" + names + ") VALUES (" + parameters(columns_.size()) + ")";
  upsert_ = insert_ + " ON CONFLICT (" + keys + ")" + update_clause(columns_);
  upsert_in_group_ = insert_ + " ON CONFLICT (" + std::string{kOfficeColumn} + ", " + keys + ")" + update_clause(columns_);
  select_ = "SELECT " + names + " FROM " + name_;
  first_batch_ = select_ + batch;
  next_batch_ = select_ + " WHERE (" + keys + ") > (" + parameters(keys_.size()) + ")" + batch;
}

std::string TableShape::key_names() const {
  return list(keys_.size(), [this](std::size_t i) { return columns_[keys_[i]].name; });
}

std::string TableShape::row_name(const SqlRow& row) const {
  std::string text = noun_;
  char before = ' ';
  for (const std::size_t key : keys_) {
    if (columns_[key].name == kOnlyRow || row[key] == SqlValue{std::string{}}) continue;
    text += before + key_text(row[key]);
    before = '-';
  }
  return text;
}

SqlRow TableShape::key_of(const SqlRow& row) const {
  SqlRow key;
  for (const std::size_t index : keys_) key.push_back(row[index]);
  return key;
}

}  // namespace loadlight::store
