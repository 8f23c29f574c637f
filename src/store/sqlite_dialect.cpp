#include "sqlite_dialect.h"

namespace loadlight::store {
namespace {

std::string_view type_name(ColumnType type) {
  switch (type) {
    case ColumnType::Integer:
      return "INTEGER";
    case ColumnType::Real:
      return "REAL";
    case ColumnType::Text:
      return "TEXT";
  }
  return "";
}

std::string definition(const ColumnShape& column) {
  std::string sql = column.name + " " + std::string{type_name(column.type)};
  if (!column.nullable) sql += " NOT NULL";
  if (!column.check.empty()) sql += " CHECK (" + column.check + ")";
  if (!column.refers.empty()) sql += " REFERENCES " + column.refers + " DEFERRABLE INITIALLY DEFERRED";
  return sql;
}

std::string text_of(const TableConstraint& constraint) {
  switch (constraint.kind) {
    case ConstraintKind::Check:
      return "CHECK (" + constraint.columns + ")";
    case ConstraintKind::Unique:
      return "UNIQUE (" + constraint.columns + ")";
    case ConstraintKind::Refers:
      return "FOREIGN KEY (" + constraint.columns + ") REFERENCES " + constraint.table +
             " DEFERRABLE INITIALLY DEFERRED";
  }
  return "";
}

class SqliteDialect final : public SqlDialect {
 public:
  // STRICT: a column refuses values of another type.
  std::vector<std::string> create_statements(const TableShape& table) const override {
    std::string sql = "CREATE TABLE " + table.name() + " (\n  ";
    for (const ColumnShape& column : table.columns()) sql += definition(column) + ",\n  ";
    for (const TableConstraint& constraint : table.constraints()) sql += text_of(constraint) + ",\n  ";
    std::vector<std::string> statements{sql + "PRIMARY KEY (" + table.key_names() + ")) STRICT"};
    for (const TableIndex& index : table.indexes()) {
      statements.push_back("CREATE INDEX " + index.name + " ON " + table.name() + " (" + index.columns + ")");
    }
    return statements;
  }

  // References stand in the tables themselves.
  std::vector<std::string> reference_statements(const TableShape&) const override { return {}; }

  std::vector<std::string> append_only_rules(const TableShape& table) const override {
    const std::string& name = table.name();
    const std::string refusal = " ON " + name + " BEGIN SELECT RAISE(ABORT, '" + name + " only grows'); END";
    return {"CREATE TRIGGER " + name + "_refuses_update BEFORE UPDATE" + refusal,
            "CREATE TRIGGER " + name + "_refuses_delete BEFORE DELETE" + refusal};
  }

  const std::string& upsert_sql(const TableShape& table) const override { return table.upsert_sql(); }
};

}  // namespace

const SqlDialect& sqlite_dialect() {
  static const SqliteDialect dialect;
  return dialect;
}

}  // namespace loadlight::store
