#include "schema.h"

#include <utility>

#include "sql_transaction.h"
#include "whereabouts.h"

namespace loadlight::store {
namespace {

template <class... Records>
std::vector<const TableShape*> shapes_of(std::variant<Records...>*) {
  return {&table_of<Records>().shape()...};
}

void add(std::vector<std::string>& statements, std::vector<std::string> more) {
  for (std::string& sql : more) statements.push_back(std::move(sql));
}

}  // namespace

std::vector<const TableShape*> record_tables() {
  return shapes_of(static_cast<core::Record*>(nullptr));
}

const TableShape* record_table(std::string_view name) {
  for (const TableShape* shape : record_tables()) {
    if (shape->name() == name) return shape;
  }
  return nullptr;
}

std::vector<std::string> schema_statements(const SqlDialect& dialect) {
  const TableShape& ledger = table_of<core::LedgerEntry>().shape();
  std::vector<const TableShape*> shapes = record_tables();
  shapes.push_back(&ledger);
  shapes.push_back(&table_of<LedgerHead>().shape());
  shapes.push_back(&table_of<Whereabouts>().shape());
  std::vector<std::string> statements;
  for (const TableShape* shape : shapes) add(statements, dialect.create_statements(*shape));
  for (const TableShape* shape : shapes) add(statements, dialect.reference_statements(*shape));
  add(statements, dialect.append_only_rules(ledger));
  return statements;
}

core::Result<void> create_schema(SqlSession& session) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  for (const std::string& sql : schema_statements(session.dialect())) {
    if (auto made = session.run(sql); !made) return made;
  }
  if (auto begun = begin_ledger(session); !begun) return begun;
  if (auto marked = session.mark_as_record(kSchemaVersion); !marked) return marked;
  return transaction->commit();
}

}  // namespace loadlight::store
