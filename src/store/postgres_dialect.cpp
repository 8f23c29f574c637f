#include "postgres_dialect.h"

namespace loadlight::store {
namespace {

// Texts are ordered by their bytes, as SQLite orders them.
std::string_view type_name(ColumnType type) {
  switch (type) {
    case ColumnType::Integer:
      return "BIGINT";
    case ColumnType::Real:
      return "DOUBLE PRECISION";
    case ColumnType::Text:
      return "TEXT COLLATE \"C\"";
  }
  return "";
}

std::string in_office(std::string_view columns) {
  return "(" + std::string{kOfficeColumn} + ", " + std::string{columns} + ")";
}

std::string reference(const TableShape& table, std::string_view columns, std::string_view other) {
  return "ALTER TABLE " + table.name() + " ADD FOREIGN KEY " + in_office(columns) + " REFERENCES " +
         std::string{other} + " DEFERRABLE INITIALLY DEFERRED";
}

// Room on each page for a row's next form: one that changes nothing of an index stays out of every index then, and
// the server compares it with nobody who looked up another row there (PostgreSQL 15 documentation, 73.7).
constexpr std::string_view kWithRoom = " WITH (fillfactor = 50)";

std::string definition(const ColumnShape& column) {
  std::string sql = column.name + " " + std::string{type_name(column.type)};
  if (!column.nullable) sql += " NOT NULL";
  if (!column.check.empty()) sql += " CHECK (" + column.check + ")";
  return sql;
}

std::string create_table(const TableShape& table) {
  std::string sql = "CREATE TABLE " + table.name() + " (\n  " + std::string{kOfficeColumn} +
                    " BIGINT NOT NULL DEFAULT own_office() REFERENCES offices,\n  ";
  for (const ColumnShape& column : table.columns()) sql += definition(column) + ",\n  ";
  for (const TableConstraint& constraint : table.constraints()) {
    if (constraint.kind == ConstraintKind::Check) sql += "CHECK (" + constraint.columns + "),\n  ";
    if (constraint.kind == ConstraintKind::Unique) sql += "UNIQUE " + in_office(constraint.columns) + ",\n  ";
  }
  return sql + "PRIMARY KEY " + in_office(table.key_names()) + ")" + std::string{kWithRoom};
}

class PostgresDialect final : public SqlDialect {
 public:
  // The sub-select lets the server ask once a query whose rows are shown, and not once a row.
  std::vector<std::string> create_statements(const TableShape& table) const override {
    const std::string& name = table.name();
    const std::string own = std::string{kOfficeColumn} + " = (SELECT own_office())";
    std::vector<std::string> statements{create_table(table),
                                        "ALTER TABLE " + name + " ENABLE ROW LEVEL SECURITY",
                                        "CREATE POLICY own_rows ON " + name + " USING (" + own + ") WITH CHECK (" + own + ")",
                                        "GRANT SELECT, INSERT, UPDATE ON " + name + " TO loadlight_station"};
    for (const TableIndex& index : table.indexes()) {
      statements.push_back("CREATE INDEX " + index.name + " ON " + name + " " + in_office(index.columns));
    }
    return statements;
  }

  std::vector<std::string> reference_statements(const TableShape& table) const override {
    std::vector<std::string> statements;
    for (const ColumnShape& column : table.columns()) {
      if (!column.refers.empty()) statements.push_back(reference(table, column.name, column.refers));
    }
    for (const TableConstraint& constraint : table.constraints()) {
      if (constraint.kind != ConstraintKind::Refers) continue;
      statements.push_back(reference(table, constraint.columns, constraint.table));
    }
    return statements;
  }

  std::vector<std::string> append_only_rules(const TableShape& table) const override {
    const std::string& name = table.name();
    return {"REVOKE UPDATE, DELETE, TRUNCATE ON " + name + " FROM loadlight_station",
            "CREATE FUNCTION " + name + "_only_grows() RETURNS trigger LANGUAGE plpgsql AS $$"
            " BEGIN RAISE EXCEPTION '" + name + " only grows'; END $$",
            "CREATE TRIGGER " + name + "_refuses_change BEFORE UPDATE OR DELETE OR TRUNCATE ON " + name +
                " FOR EACH STATEMENT EXECUTE FUNCTION " + name + "_only_grows()"};
  }

  const std::string& upsert_sql(const TableShape& table) const override { return table.upsert_in_group_sql(); }
};

}  // namespace

const SqlDialect& postgres_dialect() {
  static const PostgresDialect dialect;
  return dialect;
}

}  // namespace loadlight::store
