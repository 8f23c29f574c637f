#include <catch2/catch.hpp>

#include "full_office.h"
#include "raw_sql.h"
#include "store/schema.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

std::vector<const TableShape*> all_tables() {
  auto tables = record_tables();
  tables.push_back(&table_of<core::LedgerEntry>().shape());
  tables.push_back(&table_of<LedgerHead>().shape());
  return tables;
}

std::vector<std::string> rowids(RawSql& raw, const TableShape& table) {
  std::vector<std::string> ids;
  for (const auto& row : raw.rows("SELECT rowid FROM " + table.name())) ids.push_back(row[0]);
  return ids;
}

// Other values of the same type: the first character of a text, its last, one more or less of a number.
std::vector<std::string> altered_values(const ColumnShape& column) {
  const std::string& name = column.name;
  if (column.type == ColumnType::Integer && column.key) return {name + " + 100", name + " - 100"};
  if (column.type == ColumnType::Integer) return {name + " + 1", name + " - 1", "NULL"};
  if (column.type == ColumnType::Real) return {name + " * (1 + 3e-16)", "NULL"};
  return {"CASE WHEN substr(" + name + ", 1, 1) = 'x' THEN 'y' ELSE 'x' END || substr(" + name + ", 2)",
          name + " || ' '", "NULL"};
}

bool refuses_null(const ColumnShape& column, const std::string& value) {
  return value == "NULL" && !column.nullable;
}

TEST_CASE("A record that only events have changed is whole") {
  const FullOffice office;
  CHECK(text(office.after("SELECT 1")).empty());
}

TEST_CASE("One altered value is found, in every column of every row of every table") {
  const FullOffice office;
  RawSql raw{office.record()};
  int altered = 0;
  for (const TableShape* table : all_tables()) {
    for (const std::string& rowid : rowids(raw, *table)) {
      const std::string where = " WHERE rowid = " + rowid;
      for (const ColumnShape& column : table->columns()) {
        const std::string old = raw.value("SELECT typeof(" + column.name + ") FROM " + table->name() + where);
        for (const std::string& value : altered_values(column)) {
          if (old == "null" || refuses_null(column, value)) continue;
          const std::string sql = "UPDATE " + table->name() + " SET " + column.name + " = " + value + where;
          INFO(sql);
          CHECK_FALSE(office.after(sql).empty());
          ++altered;
        }
      }
    }
  }
  CHECK(altered > 400);
}

TEST_CASE("A value that was empty and is filled is found") {
  const FullOffice office;
  CHECK(text(office.after("UPDATE packages SET visit = 'B-2' WHERE visit IS NULL AND id = '" +
                          package_id(2).text() + "'")) == "package " + package_id(2).text() + " row-altered");
  CHECK(text(office.after("UPDATE office SET shelf_life_days = NULL")) == "office row-altered");
}

TEST_CASE("A row deleted is found, in every table") {
  const FullOffice office;
  RawSql raw{office.record()};
  for (const TableShape* table : all_tables()) {
    for (const std::string& rowid : rowids(raw, *table)) {
      const std::string sql = "DELETE FROM " + table->name() + " WHERE rowid = " + rowid;
      INFO(sql);
      CHECK_FALSE(office.after(sql).empty());
    }
  }
}

TEST_CASE("A row added is found, and named") {
  const FullOffice office;
  CHECK(text(office.after("INSERT INTO locations (code, name) VALUES ('NEW', 'new')")) ==
        "location NEW row-extra");
  CHECK(text(office.after(
            "INSERT INTO loads (sterilizer, number, state, program, purpose, loose_items, abort_reason,"
            " decided_by, emergency_reason, emergency_second, implant_aboard) SELECT 'S1', 77, state,"
            " program, purpose, loose_items, abort_reason, decided_by, emergency_reason,"
            " emergency_second, implant_aboard FROM loads WHERE number = 2")) ==
        "load S1-77 row-extra");
}

TEST_CASE("A row altered or missing is named") {
  const FullOffice office;
  const std::string id = package_id(1).text();
  CHECK(text(office.after("UPDATE loads SET state = 'failed' WHERE number = 1")) == "load S1-1 row-altered");
  CHECK(text(office.after("UPDATE packages SET recalled = 1 WHERE id = '" + id + "'")) ==
        "package " + id + " row-altered");
  CHECK(text(office.after("DELETE FROM biologicals")) == "biological 1 row-missing");
}

TEST_CASE("Two ledger entries swapped are found") {
  const FullOffice office;
  const auto found = text(office.after(
      "UPDATE ledger SET sequence = -2 WHERE sequence = 2; UPDATE ledger SET sequence = 2 WHERE sequence = 3;"
      "UPDATE ledger SET sequence = 3 WHERE sequence = -2"));
  CHECK_THAT(found, Catch::Contains("ledger 2 previous-wrong") && Catch::Contains("ledger 2 hash-wrong") &&
                        Catch::Contains("ledger 3 hash-wrong"));
}

TEST_CASE("Entries cut out of the ledger or off its end are named") {
  const FullOffice office;
  CHECK_THAT(text(office.after("DELETE FROM ledger WHERE sequence = 7")),
             Catch::Equals("ledger 7 entry-missing"));
  CHECK_THAT(text(office.after("DELETE FROM ledger WHERE sequence >= 6")),
             Catch::Contains("ledger 6-7 entry-missing"));
  CHECK_THAT(text(office.after("DELETE FROM ledger WHERE sequence = 1")),
             Catch::Contains("ledger 1 entry-missing"));
  CHECK_THAT(text(office.after("DELETE FROM ledger")), Catch::Contains("ledger 1-7 entry-missing"));
}

TEST_CASE("An entry rewritten with a hash that fits breaks the chain after it, or the head") {
  const FullOffice office;
  const auto rewritten = [&](const std::string& sequence) {
    RawSql raw{office.record()};
    const auto row = raw.rows("SELECT * FROM ledger WHERE sequence = " + sequence).at(0);
    core::LedgerEntry entry{std::stoll(row[0]),
                            core::instant_from(std::stoll(row[1])),
                            row[2],
                            row[3],
                            "forged",
                            row[5],
                            row[6],
                            {}};
    return "UPDATE ledger SET subject = 'forged', hash = '" + entry_hash(entry) +
           "' WHERE sequence = " + sequence;
  };
  CHECK_THAT(text(office.after(rewritten("6"))), Catch::Equals("ledger 7 previous-wrong"));
  CHECK_THAT(text(office.after(rewritten("7"))), Catch::Equals("head head-wrong"));
}

TEST_CASE("A body that is no body of ours is found, whatever it is") {
  const FullOffice office;
  for (const char* body :
       {"", "null", "[]", "{}", "{\"records\":1}", "{\"records\":[1]}", "not json",
        "{\"records\":[{\"table\":\"none\",\"row\":{}}]}", "{\"records\":[{\"table\":\"loads\",\"row\":[]}]}",
        "{\"records\":[{\"table\":\"loads\",\"row\":{\"unknown\":1}}]}",
        "{\"records\":[{\"table\":\"loads\",\"row\":{\"state\":[]}}]}"}) {
    INFO(body);
    const auto sql = "UPDATE ledger SET body = '" + std::string{body} + "' WHERE sequence = 4";
    CHECK_THAT(text(office.after(sql)), Catch::Contains("ledger 4 body-unreadable"));
  }
}

TEST_CASE("A table dropped or robbed of a column is named") {
  const FullOffice office;
  CHECK_THAT(text(office.after("DROP TABLE biologicals")), Catch::Equals("table biologicals table-altered"));
  CHECK_THAT(text(office.after("DROP TABLE ledger")), Catch::Equals("table ledger table-altered"));
  CHECK_THAT(text(office.after("ALTER TABLE locations DROP COLUMN name")),
             Catch::Equals("table locations table-altered"));
  CHECK_THAT(text(office.after("DROP TABLE ledger_head")),
             Catch::Equals("head head-wrong, schema ledger_head schema-altered"));
}

TEST_CASE("What guards the record and is taken away or laid beside it is named") {
  const FullOffice office;
  CHECK_THAT(text(office.after("DROP INDEX packages_by_visit")),
             Catch::Equals("schema packages_by_visit schema-altered"));
  CHECK_THAT(text(office.after("CREATE TRIGGER mine AFTER INSERT ON loads BEGIN DELETE FROM packages; END")),
             Catch::Equals("record.db schema-extra"));
  CHECK_THAT(text(office.after("CREATE TABLE mine (a TEXT)")), Catch::Equals("record.db schema-extra"));
}

TEST_CASE("Many alterations are named up to a bound and then summed up") {
  const FullOffice office;
  const auto found = office.after(
      "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 3000)"
      "INSERT INTO locations SELECT 'L' || i, 'new', NULL FROM n");
  REQUIRE(found.size() == 1001);
  CHECK(found.back().what == "more-altered");
}

TEST_CASE("The ledger refuses changes as long as nobody drops its rules") {
  const FullOffice office;
  RawSql raw{office.record()};
  CHECK_THROWS_WITH(raw.run("UPDATE ledger SET subject = 'x'"), Catch::Contains("ledger only grows"));
  CHECK_THROWS_WITH(raw.run("DELETE FROM ledger"), Catch::Contains("ledger only grows"));
}

}  // namespace
}  // namespace loadlight::store
