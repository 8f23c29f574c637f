"""A record in the hands of somebody who knows how it is made: SQLite without the program, and the ledger's own format.

The record of one office, whose ledger is one chain. The bytes an entry's hash is made over are stated in src/store/ledger.cpp, the body's in src/store/row_json.h.
"""
import contextlib
import hashlib
import json
import sqlite3

FIELDS = ("sequence", "at", "operator_code", "kind", "subject", "body", "previous")


@contextlib.contextmanager
def opened(path):
    """Heeds no check, no foreign key and no rule of the ledger, and leaves the schema as it was."""
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("PRAGMA ignore_check_constraints = ON")
    database.execute("PRAGMA synchronous = OFF")
    rules = database.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
    try:
        for name, _ in rules:
            database.execute(f"DROP TRIGGER {name}")
        yield database
        for _, sql in rules:
            database.execute(sql)
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        database.close()


class Shape:
    """A table as verification names its rows."""

    # Where a row is not called as its table without the plural.
    NOUNS = {"ledger_head": "head", "contents": "contents", "office": "office", "ledger": "ledger",
             "settings": "setting"}

    def __init__(self, database, name):
        self.name = name
        info = database.execute(f"PRAGMA table_info({name})").fetchall()
        self.columns = [column[1] for column in info]
        self.types = {column[1]: column[2] for column in info}
        self.required = {column[1] for column in info if column[3]}
        self.key = [column[1] for column in sorted(info, key=lambda column: column[5]) if column[5]]
        self.noun = self.NOUNS.get(name, name.removesuffix("s").replace("_", "-"))

    def row_name(self, row):
        parts = [str(row[column]) for column in self.key if column != self.only_row() and row[column] != ""]
        return self.noun + (" " + "-".join(parts) if parts else "")

    def only_row(self):
        return self.key[0] if self.name == "office" else None

    def rows(self, database):
        sql = f"SELECT rowid AS the_row, * FROM {self.name} ORDER BY rowid"
        for row in database.execute(sql).fetchall():
            yield row[0], dict(zip(self.columns, row[1:]))


def shapes(database):
    names = [name for (name,) in database.execute(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")]
    return [Shape(database, name) for name in names]


def entry_hash(entry):
    hashed = b"loadlight ledger 1\n"
    for field in FIELDS:
        value = str(entry[field]).encode()
        hashed += str(len(value)).encode() + b":" + value + b"\n"
    return hashlib.sha256(hashed).hexdigest()


def entries_of(database):
    return [row for _, row in Shape(database, "ledger").rows(database)]


def write_anew(database, entries):
    """The ledger of these entries alone, chained as it should be, its head and every table as they make them."""
    before, newest, rows = "0" * 64, None, {}
    database.execute("BEGIN")
    database.execute("DELETE FROM ledger")
    for entry in entries:
        entry["previous"] = before
        entry["hash"] = before = entry_hash(entry)
        corrects = entry["kind"] == "clock-corrected" or newest is None
        newest = entry["at"] if corrects else max(newest, entry["at"])
        database.execute(f"INSERT INTO ledger ({', '.join(entry)}) VALUES ({', '.join('?' for _ in entry)})",
                         list(entry.values()))
        for record in json.loads(entry["body"])["records"]:
            rows.setdefault(record["table"], []).append(record["row"])
    database.execute("UPDATE ledger_head SET sequence = ?, hash = ?, newest_at = ?",
                     (entries[-1]["sequence"], before, newest))
    for shape in shapes(database):
        if shape.name not in ("ledger", "ledger_head"):
            database.execute(f"DELETE FROM {shape.name}")
            put_rows(database, shape, rows.get(shape.name, []))
    database.execute("COMMIT")


def put_rows(database, shape, rows):
    for row in rows:
        named = {column: row.get(column) for column in shape.columns if column in row}
        if shape.only_row() and shape.only_row() not in named:
            named[shape.only_row()] = 1
        places = ", ".join("?" for _ in named)
        database.execute(f"INSERT OR REPLACE INTO {shape.name} ({', '.join(named)}) VALUES ({places})",
                         list(named.values()))


def altered_value(value, dice):
    """Another value of the same type: one character or one digit is another."""
    if isinstance(value, int):
        return value + dice.choice((-1, 1))
    if isinstance(value, float):
        return value + dice.choice((-0.5, 0.5))
    if not value:
        return "x"
    at = dice.randrange(len(value))
    letter = value[at]
    other = dice.choice([c for c in "0123456789abcdefXYZ" if c != letter])
    return value[:at] + other + value[at + 1:]


def content_of(path):
    """Everything that a record says, and everything that guards it; None when it cannot be read."""
    try:
        with contextlib.closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as database:
            database.text_factory = bytes
            schema = database.execute("SELECT type, name, tbl_name, sql FROM sqlite_schema"
                                      " WHERE sql IS NOT NULL").fetchall()  # others are SQLite's own to name
            schema = sorted(((*row[:3], b"".join(row[3].split())) for row in schema), key=repr)
            names = [row[1].decode() for row in schema if row[0] == b"table"]
            rows = [(name, sorted(database.execute(f'SELECT * FROM "{name}"').fetchall(), key=repr)) for name in names]
            marks = [database.execute(f"PRAGMA {mark}").fetchall() for mark in ("application_id", "user_version")]
            return schema, rows, marks
    except (sqlite3.Error, UnicodeDecodeError):
        return None
