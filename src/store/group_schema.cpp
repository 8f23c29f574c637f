#include "group_schema.h"

#include <optional>
#include <variant>

#include "schema.h"
#include "sql_transaction.h"
#include "whereabouts.h"

namespace loadlight::store {
namespace {

// None for a role that belongs to no office or, which nobody should make, to several. A role that leads the group
// belongs to none: it works in the one that it chose. Every statement asks it, some several times: PL/pgSQL keeps its
// plans, where a function in SQL would make them anew each time.
constexpr std::string_view kOwnOffice =
    "CREATE OR REPLACE FUNCTION own_office() RETURNS BIGINT LANGUAGE plpgsql STABLE SECURITY DEFINER"
    " SET search_path = loadlight, pg_temp AS $$"
    " DECLARE number BIGINT; roles BIGINT; BEGIN"
    "  SELECT min(office_no), count(*) INTO number, roles FROM office_roles WHERE role_name = session_user;"
    "  IF roles = 1 THEN RETURN number; END IF;"
    "  IF roles > 1 THEN RETURN NULL; END IF;"
    "  SELECT o.office_no INTO number FROM group_leads AS l"
    "   JOIN offices AS o ON o.name = current_setting('loadlight.office', true) WHERE l.role_name = session_user;"
    "  RETURN number;"
    " END $$";

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
    kOwnOffice,
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

// Since version 5. An office's ledger is closed by taking its sequence the numbers: changing a sequence waits for
// whoever has drawn from it, and holds for everybody at once, whatever they see of the rows.
constexpr std::string_view kMoving[] = {
    "CREATE FUNCTION own_sequence() RETURNS TEXT LANGUAGE sql STABLE SET search_path = loadlight, pg_temp"
    " AS $$ SELECT 'ledger_sequence_' || own_office() $$",
    "CREATE FUNCTION close_ledger() RETURNS VOID LANGUAGE plpgsql SECURITY DEFINER"
    " SET search_path = loadlight, pg_temp AS $$"
    " DECLARE drawn BIGINT; BEGIN"
    "  EXECUTE format('ALTER SEQUENCE %I NO CYCLE', own_sequence());"
    "  EXECUTE format('SELECT last_value FROM %I', own_sequence()) INTO drawn;"
    "  EXECUTE format('ALTER SEQUENCE %I MINVALUE 0 MAXVALUE %s', own_sequence(), drawn);"
    "  PERFORM setval(own_sequence()::regclass, drawn, true);"
    " END $$",
    "CREATE FUNCTION continue_ledger() RETURNS VOID LANGUAGE plpgsql SECURITY DEFINER"
    " SET search_path = loadlight, pg_temp AS $$"
    " DECLARE drawn BIGINT; used BOOLEAN; last BIGINT; BEGIN"
    "  IF EXISTS (SELECT 1 FROM whereabouts WHERE office_no = own_office() AND state <> 'here') THEN RETURN; END IF;"
    "  EXECUTE format('ALTER SEQUENCE %I NO MAXVALUE', own_sequence());"
    "  EXECUTE format('SELECT last_value, is_called FROM %I', own_sequence()) INTO drawn, used;"
    "  SELECT max(sequence) INTO last FROM ledger WHERE office_no = own_office();"
    "  IF last > drawn OR (last = drawn AND NOT used) THEN"
    "   EXECUTE format('ALTER SEQUENCE %I RESTART WITH %s', own_sequence(), last + 1);"
    "  END IF;"
    " END $$",
    "REVOKE ALL ON FUNCTION own_sequence(), close_ledger(), continue_ledger() FROM PUBLIC",
    "GRANT EXECUTE ON FUNCTION close_ledger(), continue_ledger() TO loadlight_station",
};

template <class Statements>
core::Result<void> run_all(SqlSession& session, const Statements& statements) {
  for (const auto& sql : statements) {
    if (auto done = session.run(sql); !done) return done;
  }
  return {};
}

// Where a list of terms has gained some.
core::Result<void> renew_checks(SqlSession& session) {
  std::vector<std::string> statements;
  for (const TableShape* table : record_tables()) {
    for (const ColumnShape& column : table->columns()) {
      if (column.check.empty()) continue;
      const std::string name = table->name() + "_" + column.name + "_check";
      statements.push_back("ALTER TABLE " + table->name() + " DROP CONSTRAINT IF EXISTS " + name + ", ADD CONSTRAINT " +
                           name + " CHECK (" + column.check + ")");
    }
  }
  return run_all(session, statements);
}

// Numbers an office's entries in the order in which their records were held.
core::Result<void> make_sequence(SqlSession& session, const std::string& office) {
  const auto row = session.first_row("SELECT office_no FROM offices WHERE name = $1", {office});
  if (!row) return row.failure();
  const auto* number = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  if (!number) return session.damaged("offices");
  const std::string name = "ledger_sequence_" + std::to_string(*number);
  return session.run("CREATE SEQUENCE IF NOT EXISTS " + name);
}

// Only an office's own roles and the leads' draw from its sequence. Of one office and one role, or of all.
core::Result<void> share_sequences(SqlSession& session, const std::optional<std::string>& office,
                                   const std::optional<std::string>& role) {
  const auto statements = session.rows(
      "SELECT 'GRANT USAGE ON SEQUENCE ledger_sequence_' || o.office_no || ' TO ' || quote_ident(r.rolname)"
      " FROM offices AS o JOIN pg_roles AS r"
      " ON EXISTS (SELECT 1 FROM office_roles AS x WHERE x.office_no = o.office_no AND x.role_name = r.rolname)"
      " OR EXISTS (SELECT 1 FROM group_leads AS l WHERE l.role_name = r.rolname)"
      " WHERE (o.name = $1 OR $1 IS NULL) AND (r.rolname = CAST($2 AS NAME) OR $2 IS NULL)",
      {office ? SqlValue{*office} : SqlValue{}, role ? SqlValue{*role} : SqlValue{}});
  if (!statements) return statements.failure();
  for (const SqlRow& row : *statements) {
    const auto* grant = std::get_if<std::string>(&row[0]);
    if (!grant) return session.damaged("offices");
    if (auto granted = session.run(*grant); !granted) return granted;
  }
  return {};
}

// Before version 6 every station's role could draw from any office's.
core::Result<void> take_back_sequences(SqlSession& session) {
  auto taken = session.run(
      "DO $$ DECLARE number BIGINT; BEGIN"
      "  FOR number IN SELECT office_no FROM offices LOOP"
      "   EXECUTE format('REVOKE USAGE ON SEQUENCE %I FROM loadlight_station', 'ledger_sequence_' || number);"
      "  END LOOP;"
      " END $$");
  return taken ? share_sequences(session, {}, {}) : taken;
}

}  // namespace

core::Result<void> create_group_schema(SqlSession& session) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  if (auto done = run_all(session, kFoundation); !done) return done;
  if (auto done = run_all(session, schema_statements(session.dialect())); !done) return done;
  if (auto done = run_all(session, kMoving); !done) return done;
  if (auto marked = session.mark_as_record(kSchemaVersion); !marked) return marked;
  return transaction->commit();
}

// One at a time: whoever waited finds it done.
core::Result<void> bring_group_up_to_date(SqlSession& session) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  if (auto held = session.run("LOCK TABLE schema_mark IN EXCLUSIVE MODE"); !held) return held;
  const auto version = session.schema_version();
  if (!version) return version.failure();
  if (*version >= kSchemaVersion) return {};
  if (*version < 5) {
    if (auto done = renew_checks(session); !done) return done;
    const auto table = session.dialect().create_statements(table_of<Whereabouts>().shape());
    if (auto done = run_all(session, table); !done) return done;
    if (auto done = run_all(session, kMoving); !done) return done;
  }
  if (*version < 6) {
    const auto made = session.run("CREATE INDEX loads_by_emergency ON loads (office_no, state, emergency_reason, sterilizer, number)");
    if (!made) return made;
    if (auto renewed = session.run(kOwnOffice); !renewed) return renewed;
    if (auto taken = take_back_sequences(session); !taken) return taken;
  }
  if (auto marked = session.mark_as_record(kSchemaVersion); !marked) return marked;
  return transaction->commit();
}

namespace {

// What every station's role may do. A statement that grants takes no parameters: the server quotes the role's name.
core::Result<void> let_in(SqlSession& session, const std::string& role) {
  const auto row = session.first_row("SELECT quote_ident(rolname) FROM pg_roles WHERE rolname = CAST($1 AS NAME)", {role});
  if (!row) return row.failure();
  const auto* quoted = *row ? std::get_if<std::string>(&(**row)[0]) : nullptr;
  if (!quoted) return core::Failure{core::FailureCode::BadValue, {{"field", "role"}, {"given", role}}, {}};
  return session.run("GRANT loadlight_station TO " + *quoted);
}

}  // namespace

core::Result<void> add_office(SqlSession& session, const std::string& office, const std::string& role) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  const auto run = [&](std::string_view sql, const SqlRow& parameters) { return session.run(sql, parameters); };
  if (auto allowed = let_in(session, role); !allowed) return allowed;
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
  if (auto shared = share_sequences(session, office, {}); !shared) return shared;
  return transaction->commit();
}

core::Result<void> add_lead(SqlSession& session, const std::string& role) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  if (auto allowed = let_in(session, role); !allowed) return allowed;
  auto added = session.run("INSERT INTO group_leads (role_name) VALUES (CAST($1 AS NAME)) ON CONFLICT DO NOTHING", {role});
  if (!added) return added;
  if (auto shared = share_sequences(session, {}, role); !shared) return shared;
  return transaction->commit();
}

}  // namespace loadlight::store
