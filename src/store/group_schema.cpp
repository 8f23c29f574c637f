#include "group_schema.h"

#include "schema.h"
#include "sql_transaction.h"

namespace loadlight::store {
namespace {

// Roles belong to the whole server: another database of it may have made them.
constexpr std::string_view kFoundation[] = {
    "CREATE SCHEMA loadlight",
    "DO $$ BEGIN"
    "  CREATE ROLE loadlight_station NOLOGIN;"
    " EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL; END $$",
    "GRANT USAGE ON SCHEMA loadlight TO loadlight_station",
    "CREATE TABLE schema_mark (only_row BIGINT PRIMARY KEY CHECK (only_row = 1), version BIGINT NOT NULL)",
    "GRANT SELECT ON schema_mark TO loadlight_station",
    "CREATE TABLE offices (office_no BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY, name TEXT NOT NULL UNIQUE)",
    "CREATE TABLE office_roles (role_name NAME NOT NULL, office_no BIGINT NOT NULL REFERENCES offices,"
    " PRIMARY KEY (role_name, office_no))",
    "CREATE TABLE group_leads (role_name NAME PRIMARY KEY)",
    // None for a role that belongs to no office or, which nobody should make, to several. A role that leads the group
    // belongs to none: it works in the one that it chose.
    "CREATE FUNCTION own_office() RETURNS BIGINT LANGUAGE sql STABLE SECURITY DEFINER"
    " SET search_path = loadlight, pg_temp"
    " AS $$ SELECT coalesce("
    "(SELECT min(office_no) FROM office_roles WHERE role_name = session_user HAVING count(*) = 1),"
    " (SELECT o.office_no FROM group_leads AS l JOIN offices AS o ON o.name = current_setting('loadlight.office', true)"
    " WHERE l.role_name = session_user"
    " AND NOT EXISTS (SELECT 1 FROM office_roles WHERE role_name = session_user))) $$",
    "REVOKE ALL ON FUNCTION own_office() FROM PUBLIC",
    "GRANT EXECUTE ON FUNCTION own_office() TO loadlight_station",
    "CREATE FUNCTION led_offices() RETURNS SETOF TEXT LANGUAGE sql STABLE SECURITY DEFINER"
    " SET search_path = loadlight, pg_temp"
    " AS $$ SELECT name FROM offices WHERE EXISTS (SELECT 1 FROM group_leads WHERE role_name = session_user)"
    " ORDER BY name $$",
    "REVOKE ALL ON FUNCTION led_offices() FROM PUBLIC",
    "GRANT EXECUTE ON FUNCTION led_offices() TO loadlight_station",
    // The office's keys as its stations hand them to each other: under a key that only they have.
    "CREATE TABLE office_keys (office_no BIGINT PRIMARY KEY DEFAULT own_office() REFERENCES offices,"
    " wrapped TEXT NOT NULL)",
    "ALTER TABLE office_keys ENABLE ROW LEVEL SECURITY",
    "CREATE POLICY own_rows ON office_keys USING (office_no = (SELECT own_office()))"
    " WITH CHECK (office_no = (SELECT own_office()))",
    "GRANT SELECT, INSERT, UPDATE ON office_keys TO loadlight_station",
    // A word that SQLite has and PostgreSQL calls otherwise.
    "CREATE FUNCTION instr(hay TEXT, needle TEXT) RETURNS INTEGER LANGUAGE sql IMMUTABLE STRICT PARALLEL SAFE"
    " AS 'SELECT strpos(hay, needle)'",
    "GRANT EXECUTE ON FUNCTION instr(TEXT, TEXT) TO loadlight_station",
};

// Numbers an office's entries in the order in which their records were held.
core::Result<void> make_sequence(SqlSession& session, const std::string& office) {
  const auto row = session.first_row("SELECT office_no FROM offices WHERE name = $1", {office});
  if (!row) return row.failure();
  const auto* number = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  if (!number) return session.damaged("offices");
  const std::string name = "ledger_sequence_" + std::to_string(*number);
  if (auto made = session.run("CREATE SEQUENCE IF NOT EXISTS " + name); !made) return made;
  return session.run("GRANT USAGE ON SEQUENCE " + name + " TO loadlight_station");
}

}  // namespace

core::Result<void> create_group_schema(SqlSession& session) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  for (const std::string_view sql : kFoundation) {
    if (auto done = session.run(sql); !done) return done;
  }
  for (const std::string& sql : schema_statements(session.dialect())) {
    if (auto done = session.run(sql); !done) return done;
  }
  if (auto marked = session.mark_as_record(kSchemaVersion); !marked) return marked;
  return transaction->commit();
}

core::Result<void> add_office(SqlSession& session, const std::string& office, const std::string& role) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  const auto run = [&](std::string_view sql, const SqlRow& parameters) { return session.run(sql, parameters); };
  if (auto done = run("INSERT INTO offices (name) VALUES ($1) ON CONFLICT (name) DO NOTHING", {office}); !done) {
    return done;
  }
  if (auto done = run("INSERT INTO office_roles (role_name, office_no)"
                      " SELECT CAST($2 AS NAME), office_no FROM offices WHERE name = $1 ON CONFLICT DO NOTHING",
                      {office, role});
      !done) {
    return done;
  }
  if (auto made = make_sequence(session, office); !made) return made;
  return transaction->commit();
}

core::Result<void> add_lead(SqlSession& session, const std::string& role) {
  return session.run("INSERT INTO group_leads (role_name) VALUES (CAST($1 AS NAME)) ON CONFLICT DO NOTHING", {role});
}

}  // namespace loadlight::store
