// That one office's rows are nobody else's to see or change, tried on every table by every kind of role. What it
// leans on: PostgreSQL 15 documentation, 5.8 (row security policies), 20.11 (customised options).
#include <catch2/catch.hpp>

#include "loadlight/store/group_record.h"
#include "store/group_schema.h"
#include "store/schema.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;

std::vector<std::string> all_tables() {
  std::vector<std::string> names{"ledger", "ledger_head"};
  for (const TableShape* shape : record_tables()) names.push_back(shape->name());
  return names;
}

// At least one row in every table.
void fill(const PostgresBackend& office) {
  core::BiologicalReading answered = a_biological(1);
  answered.of_run = 1;
  write(*office.store,
        {founding(), a_change(EventKind::LabelsPrinted, 1,
                              {a_program("P1"), a_consumable("B-1"), a_setting("air-removal-test"), a_service(1),
                               a_package(1), an_indicator(1), a_biological_run(1), answered, a_cycle_log(1),
                               an_incident(1), a_step(1), an_accounting(1, 1)})});
  must(keep_wrapped_keys(office.address, std::nullopt, "wrapped for " + office.office));
}

std::string new_role(const PostgresBackend& office, const std::string& kind) {
  const std::string role = kind + "_of_" + office.office;
  must(session_as("postgres", office.database->name)->run("CREATE ROLE " + role + " LOGIN IN ROLE loadlight_station"));
  return role;
}

template <class T>
T value_of(SqlSession& session, std::string_view sql, const SqlRow& parameters = {}) {
  const auto row = must(session.first_row(sql, parameters));
  REQUIRE(row);
  return std::get<T>((*row)[0]);
}

std::int64_t number_of(const PostgresBackend& office) {
  const auto admin = session_as("postgres", office.database->name);
  return value_of<std::int64_t>(*admin, "SELECT office_no FROM offices WHERE name = $1", {office.office});
}

// Everything that the tables hold of an office, in one text.
std::string image_of(const PostgresBackend& office, std::int64_t number) {
  const auto admin = session_as("postgres", office.database->name);
  std::string image;
  for (std::string table : all_tables()) {
    image += value_of<std::string>(*admin, "SELECT coalesce(string_agg(CAST(t.* AS TEXT), '|' ORDER BY CAST(t.* AS TEXT)), '')"
                                           " FROM " + table + " AS t WHERE office_no = $1", {number});
  }
  return image + value_of<std::string>(*admin, "SELECT wrapped FROM office_keys WHERE office_no = $1", {number});
}

bool sees(SqlSession& session, const std::string& table, std::int64_t number) {
  const auto row = session.first_row("SELECT count(*) FROM " + table + " WHERE office_no = $1", {number});
  return row && std::get<std::int64_t>((**row)[0]) > 0;
}

// A row of the other office's, to be put in under its number or under one's own.
std::string row_text(const PostgresBackend& office, const std::string& table, std::int64_t number) {
  const auto admin = session_as("postgres", office.database->name);
  return value_of<std::string>(*admin, "SELECT CAST(row_to_json(t) AS TEXT) FROM " + table +
                                           " AS t WHERE office_no = $1 LIMIT 1", {number});
}

// Whatever SQL offers for getting at a table's rows; what it yields is not asked, only what stands there after.
void try_everything(SqlSession& session, const std::string& table, const std::string& row, std::int64_t number) {
  const std::string in_row = "json_populate_record(CAST(NULL AS " + table + "), CAST($1 AS JSON))";
  CHECK_FALSE(session.run("INSERT INTO " + table + " SELECT * FROM " + in_row, {row}));
  CHECK_FALSE(session.run("DELETE FROM " + table + " WHERE office_no = $1", {number}));
  CHECK_FALSE(session.run("TRUNCATE " + table));
  CHECK_FALSE(session.run("TRUNCATE " + table + " CASCADE"));
  (void)session.run("UPDATE " + table + " SET office_no = office_no WHERE office_no = $1", {number}).ok();
  (void)session.run("UPDATE " + table + " SET office_no = $1", {number}).ok();
  (void)session.run("INSERT INTO " + table + " SELECT * FROM " + in_row + " ON CONFLICT DO NOTHING", {row}).ok();
  CHECK_FALSE(session.run("ALTER TABLE " + table + " DISABLE ROW LEVEL SECURITY"));
  CHECK_FALSE(session.run("DROP POLICY own_rows ON " + table));
  CHECK_FALSE(session.run("CREATE POLICY more ON " + table + " USING (true)"));
  (void)session.run("GRANT DELETE ON " + table + " TO PUBLIC").ok();  // grants nothing, with a warning
  CHECK_FALSE(session.run("COPY " + table + " TO PROGRAM 'cat'"));
  CHECK_FALSE(session.run("LOCK TABLE " + table + " IN ACCESS EXCLUSIVE MODE"));
}

TEST_CASE("No role of another office or of none gets at a row of any table") {
  const PostgresBackend theirs;
  const PostgresBackend ours{theirs.database};
  fill(theirs);
  fill(ours);
  const std::int64_t number = number_of(theirs), own = number_of(ours);
  const std::string before = image_of(theirs, number), own_before = image_of(ours, own);
  const std::string lead = new_role(theirs, "lead");
  must(admit_lead(theirs.database->admin(), lead));
  for (const std::string& role : {ours.office, new_role(theirs, "stranger"), lead}) {
    const auto session = session_as(role, theirs.database->name);
    for (const std::string& table : all_tables()) {
      INFO(role << ": " << table);
      CHECK_FALSE(sees(*session, table, number));
      CHECK(sees(*session, table, own) == (role == ours.office));
      try_everything(*session, table, row_text(theirs, table, number), number);
    }
    CHECK_FALSE(sees(*session, "office_keys", number));
    CHECK(session->run("SELECT nextval('ledger_sequence_" + std::to_string(number) + "')").ok() == (role == lead));
    CHECK_FALSE(session->run("SELECT setval('ledger_sequence_" + std::to_string(number) + "', 1)"));
    (void)session->run("UPDATE office_keys SET wrapped = 'x' WHERE office_no = $1", {number}).ok();
    CHECK_FALSE(session->run("INSERT INTO office_keys (office_no, wrapped) VALUES ($1, 'x')", {number}));
  }
  CHECK(image_of(theirs, number) == before);
  CHECK(image_of(ours, own) == own_before);
  CHECK(must(theirs.store->verify()).empty());
}

TEST_CASE("Who leads sees the office that he chose and no other, and choosing helps nobody else") {
  const PostgresBackend first;
  const PostgresBackend second{first.database};
  fill(first);
  fill(second);
  const std::int64_t one = number_of(first), two = number_of(second);
  const std::string lead = new_role(first, "lead"), stranger = new_role(first, "stranger");
  must(admit_lead(first.database->admin(), lead));
  const auto session = session_as(lead, first.database->name);
  must(session->choose_office(first.office));
  for (const std::string& table : all_tables()) {
    INFO(table);
    CHECK(sees(*session, table, one));
    CHECK_FALSE(sees(*session, table, two));
    CHECK_FALSE(session->run("DELETE FROM " + table));
  }
  must(session->choose_office("no such office"));
  for (const std::string& table : all_tables()) CHECK_FALSE(sees(*session, table, one));
  for (const std::string& role : {second.office, stranger}) {
    const auto other = session_as(role, first.database->name);
    must(other->choose_office(first.office));
    for (const std::string& table : all_tables()) {
      INFO(role << ": " << table);
      CHECK_FALSE(sees(*other, table, one));
    }
  }
}

// A person who leads and works in one office is of that office while he is let in there.
TEST_CASE("A role of one office that also leads stays in its own") {
  const PostgresBackend first;
  const PostgresBackend second{first.database};
  fill(first);
  fill(second);
  must(admit_lead(first.database->admin(), second.office));
  const auto session = session_as(second.office, first.database->name);
  must(session->choose_office(first.office));
  CHECK_FALSE(sees(*session, "packages", number_of(first)));
  CHECK(sees(*session, "packages", number_of(second)));
}

TEST_CASE("The names of the offices are for who leads alone") {
  const PostgresBackend first;
  const PostgresBackend second{first.database};
  const std::string lead = new_role(first, "lead");
  must(admit_lead(first.database->admin(), lead));
  const auto as = [&](const std::string& role) { return must(list_offices(test_server_address(role, first.database->name))); };
  CHECK(as(lead).size() == 2);
  CHECK(as(first.office).empty());
  for (const std::string& role : {first.office, lead}) {
    const auto session = session_as(role, first.database->name);
    for (const std::string table : {"offices", "office_roles", "group_leads"}) {
      INFO(role << ": " << table);
      CHECK_FALSE(session->run("SELECT * FROM " + table));
      CHECK_FALSE(session->run("DELETE FROM " + table));
    }
    CHECK_FALSE(session->run("INSERT INTO group_leads VALUES (current_user)"));
    CHECK_FALSE(session->run("INSERT INTO office_roles SELECT current_user, 1"));
  }
}

TEST_CASE("No role raises its rights by another name, a function, a temporary table or a search path") {
  const PostgresBackend theirs;
  const PostgresBackend ours{theirs.database};
  fill(theirs);
  fill(ours);
  const std::int64_t number = number_of(theirs);
  const std::string no = std::to_string(number);
  for (const std::string& role : {ours.office, new_role(theirs, "stranger")}) {
    INFO(role);
    const auto session = session_as(role, theirs.database->name);
    for (const std::string& sql :
         {std::string{"SET SESSION AUTHORIZATION postgres"}, "SET ROLE " + theirs.office, std::string{"SET ROLE postgres"},
          "GRANT " + theirs.office + " TO " + role, "ALTER ROLE " + role + " BYPASSRLS",
          std::string{"CREATE OR REPLACE FUNCTION loadlight.own_office() RETURNS BIGINT LANGUAGE sql AS 'SELECT 1::bigint'"},
          std::string{"CREATE FUNCTION loadlight.session_user() RETURNS NAME LANGUAGE sql AS 'SELECT ''postgres''::name'"},
          std::string{"ALTER FUNCTION loadlight.own_office() SECURITY INVOKER"}, std::string{"CREATE SCHEMA mine"},
          std::string{"CREATE TABLE loadlight.mine (x INT)"}, std::string{"CREATE VIEW loadlight.mine AS SELECT 1"},
          std::string{"DROP TRIGGER ledger_refuses_change ON loadlight.ledger"},
          std::string{"SET session_replication_role = replica"}}) {
      INFO(sql);
      CHECK_FALSE(session->run(sql));
    }
    // A function that costs nothing is asked before a row is shown, if anything is.
    must(session->run("CREATE TEMPORARY TABLE seen (office BIGINT)"));
    must(session->run("CREATE FUNCTION pg_temp.leak(BIGINT) RETURNS BOOLEAN LANGUAGE plpgsql COST 0.0000001 AS"
                      " $$ BEGIN INSERT INTO pg_temp.seen VALUES ($1); RETURN true; END $$"));
    must(session->run("SELECT count(*) FROM loadlight.packages WHERE pg_temp.leak(office_no)"));
    must(session->run("SELECT count(*) FROM loadlight.ledger WHERE pg_temp.leak(office_no)"));
    CHECK(value_of<std::int64_t>(*session, "SELECT count(*) FROM pg_temp.seen WHERE office = $1", {number}) == 0);
    // Tables and functions of one's own in front of ours.
    must(session->run("CREATE TEMPORARY TABLE group_leads AS SELECT CAST(session_user AS NAME) AS role_name"));
    must(session->run("CREATE TEMPORARY TABLE office_roles AS SELECT CAST(session_user AS NAME) AS role_name,"
                      " CAST(" + no + " AS BIGINT) AS office_no"));
    must(session->run("CREATE TEMPORARY TABLE offices AS SELECT CAST(" + no + " AS BIGINT) AS office_no, '" +
                      theirs.office + "' AS name"));
    must(session->run("CREATE FUNCTION pg_temp.own_office() RETURNS BIGINT LANGUAGE sql AS 'SELECT " +
                      no + "::bigint'"));
    must(session->run("SET search_path = pg_temp, loadlight, pg_catalog"));
    must(session->choose_office(theirs.office));
    for (const std::string& table : all_tables()) {
      INFO(table);
      CHECK_FALSE(sees(*session, "loadlight." + table, number));
    }
    must(session->run("SET row_security = off"));
    CHECK_FALSE(session->run("SELECT * FROM loadlight.packages"));
  }
}

}  // namespace
}  // namespace loadlight::store
