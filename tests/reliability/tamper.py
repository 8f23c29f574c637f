"""A record is altered behind the ledger's back, in every way there is; `ledger verify` must say what and where.

    LOADLIGHT=build/bin/loadlight python3 tests/reliability/tamper.py [--long] [--seed N] [--figures FILE]

The short form alters a sample of all columns and bytes; --long every column of every row and thousands of the
file's bytes. Exits 1 when one alteration was not named.
"""
import argparse
import json
import os
import pathlib
import random
import re
import shutil
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "outside")]

import altered_record  # noqa: E402
import figures  # noqa: E402
import office  # noqa: E402

SHORT = {"values": 40, "rows": 30, "bytes": 80, "rewrites": 4, "checkpoints": 12}
LONG = {"values": None, "rows": None, "bytes": 4000, "rewrites": 40, "checkpoints": 400}


def covers(where, sequence):
    """Whether "ledger 17" or "ledger 12-40" names this entry."""
    found = re.fullmatch(r"ledger (\d+)(?:-(\d+))?", where)
    return bool(found) and int(found[1]) <= sequence <= int(found[2] or found[1])


class Trials:
    """An office at work, with a station that keeps checkpoints; each trial begins with it as it was."""

    def __init__(self, folder, options):
        self.dice = random.Random(options.seed)
        self.bounds = LONG if options.long else SHORT
        self.folder = folder
        self.station = folder / "station"
        self.env = {"LOADLIGHT_STATION": str(self.station)}
        self.office = office.Office(folder / "office")
        self.record = self.office.folder / "record.db"
        self.faults = []
        self.counts = {}
        self.cases = self.run("init", "--demo", "--zone", "UTC").lines
        self.last_week = folder / "last-week"
        shutil.copytree(self.office.folder, self.last_week)
        self.go_on()
        self.whole = folder / "whole"
        shutil.copytree(self.office.folder, self.whole)
        self.whole_station = folder / "whole-station"
        shutil.copytree(self.station, self.whole_station)
        with altered_record.opened(self.record) as database:
            self.shapes = altered_record.shapes(database)
            self.entries = altered_record.entries_of(database)
        self.put_back()

    def run(self, *arguments, **more):
        return self.office.run(*arguments, env=self.env, **more)

    def go_on(self):
        """A week's work after the copy: packages looked at, one withdrawn, more than a hundred entries."""
        payloads = [line["payload"] for line in self.cases]
        for _ in range(11):
            wedge = self.run("check", "--wedge", input="".join(payload + "\n" for payload in payloads).encode())
            if len(wedge.lines) != len(payloads):
                raise AssertionError(wedge)
        clear = next(line["package"] for line in self.cases if line["case"] == "clear")
        for step in (("withdraw", clear, "--why", "torn"),):
            done = self.run(*step, operator="MB")
            if done.status != 0:
                raise AssertionError((done.out, done.err))

    def put_back(self):
        """Leaves nothing of the trial before."""
        for kept, used in ((self.whole, self.office.folder), (self.whole_station, self.station)):
            shutil.rmtree(used, ignore_errors=True)
            shutil.copytree(kept, used)

    def put_record_back(self):
        for name in ("record.db-wal", "record.db-shm"):
            (self.office.folder / name).unlink(missing_ok=True)
        shutil.copyfile(self.whole / "record.db", self.record)

    def verify(self, *options):
        """Exit status and (where, what) pairs."""
        reply = self.run("ledger", "verify", *options)
        return reply.status, [(line["where"], line["what"]) for line in reply.lines if "where" in line]

    def count(self, what, number=1):
        self.counts[what] = self.counts.get(what, 0) + number

    def must_name(self, what, fits, done, status, found):
        """`fits` says of a `where` that it names what was altered."""
        self.count(what)
        if status != 20 or not any(fits(where, code) for where, code in found):
            self.faults.append(f"{what}: {done}: status {status}, said {found[:6]}")

    # One value, one row, two rows.

    def sample(self, things, most):
        return things if most is None or most >= len(things) else self.dice.sample(things, most)

    def places(self):
        with altered_record.opened(self.record) as database:
            return [(shape, rowid, row) for shape in self.shapes for rowid, row in shape.rows(database)]

    def fits_row(self, shape, *rows):
        names = {shape.row_name(row) for row in rows}
        if shape.name == "ledger":
            numbers = {row["sequence"] for row in rows}
            return lambda where, _: any(covers(where, number) or covers(where, number + 1) for number in numbers)
        if shape.name == "ledger_head":  # or what would have to follow the last entry
            return lambda where, _: where.split(" ")[0] == "head" or covers(where, len(self.entries) + 1)
        return lambda where, _: where in names

    def alter(self, sql, values):
        self.put_record_back()
        with altered_record.opened(self.record) as database:
            return database.execute(sql, values).rowcount

    def alter_values(self):
        places = [(shape, rowid, row, column) for shape, rowid, row in self.places() for column in shape.columns
                  if column != shape.only_row()]
        per_column = {}
        for place in places:  # every column of every table at least once
            per_column.setdefault((place[0].name, place[3]), []).append(place)
        chosen = places if self.bounds["values"] is None else (
            [self.dice.choice(group) for group in per_column.values()] + self.sample(places, self.bounds["values"]))
        for shape, rowid, row, column in chosen:
            self.alter_value(shape, rowid, row, column)
        self.counts["columns of tables"] = len(per_column)

    def alter_value(self, shape, rowid, row, column):
        old = row[column]
        new = altered_record.altered_value(old, self.dice) if old is not None else (
            1 if shape.types[column] == "INTEGER" else 1.5 if shape.types[column] == "REAL" else "x")
        changed = dict(row)
        changed[column] = new
        try:
            self.alter(f"UPDATE {shape.name} SET {column} = ? WHERE rowid = ?", (new, rowid))
        except altered_record.sqlite3.IntegrityError:
            return  # another row has this value already, and may not share it
        self.must_name("values", self.fits_row(shape, row, changed), f"{shape.row_name(row)}.{column} {old!r} {new!r}",
                       *self.verify())

    def delete_rows(self):
        for shape, rowid, row in self.sample(self.places(), self.bounds["rows"]):
            self.alter(f"DELETE FROM {shape.name} WHERE rowid = ?", (rowid,))
            self.must_name("rows deleted", self.fits_row(shape, row), shape.row_name(row), *self.verify())

    def insert_rows(self):
        for shape, _, row in self.sample([place for place in self.places() if not place[0].only_row()],
                                         self.bounds["rows"]):
            new = dict(row)
            column = shape.key[-1]
            new[column] = new[column] + 7000 if isinstance(new[column], int) else new[column] + "Q"
            names = ", ".join(shape.columns)
            try:
                self.alter(f"INSERT INTO {shape.name} ({names}) VALUES ({', '.join('?' for _ in new)})",
                           list(new.values()))
            except altered_record.sqlite3.IntegrityError:
                continue
            self.must_name("rows added", self.fits_row(shape, new), shape.row_name(new), *self.verify())

    def swap_rows(self):
        """What two rows of a table say, beside their keys."""
        for shape in self.shapes:
            with altered_record.opened(self.record) as database:
                rows = list(shape.rows(database))
            rest = [column for column in shape.columns if column not in shape.key]
            pairs = [(a, b) for a, b in zip(rows, rows[1:]) if any(a[1][c] != b[1][c] for c in rest)]
            for (one, first), (two, second) in self.sample(pairs, 2 if self.bounds["rows"] else 50):
                self.swap(shape, rest, (one, first), (two, second))

    def swap(self, shape, rest, one, two):
        self.put_record_back()
        sets = ", ".join(f"{column} = ?" for column in rest)
        try:
            with altered_record.opened(self.record) as database:
                for rowid, row in ((one[0], two[1]), (two[0], one[1])):
                    database.execute(f"UPDATE {shape.name} SET {sets} WHERE rowid = ?",
                                     [*(row[column] for column in rest), rowid])
        except altered_record.sqlite3.IntegrityError:
            return
        done = f"{shape.row_name(one[1])} with {shape.row_name(two[1])}"
        status, found = self.verify()
        for _, row in (one, two):
            self.must_name("rows swapped", self.fits_row(shape, row), done, status, found)

    # By somebody who knows the ledger's own format.

    def cut_off(self):
        """The newest hundred gone, head and tables as if they had never been."""
        last = self.entries[-1]["sequence"]
        for count in (100, 70, 129):
            self.put_back()
            with altered_record.opened(self.record) as database:
                altered_record.write_anew(database, [dict(entry) for entry in self.entries[:-count]])
            self.must_name("ends cut off", lambda where, what, count=count: what == "cut-off" and
                           covers(where, last - count + 1), f"the newest {count}", *self.verify())

    def rewrite(self):
        """From an entry on, with every hash made anew; the entries of the end that no checkpoint has seen are left."""
        seen = max(line["sequence"] for line in self.checkpoints())
        chosen = self.sample([entry["sequence"] for entry in self.entries if 1 < entry["sequence"] <= seen],
                             self.bounds["rewrites"])
        for sequence in (*chosen, 1):
            self.put_back()
            entries = [dict(entry) for entry in self.entries]
            entries[sequence - 1]["at"] -= 1000
            with altered_record.opened(self.record) as database:
                altered_record.write_anew(database, entries)
            self.must_name("rewritten from an entry on", lambda where, what, at=sequence:
                           what == "checkpoint-contradicted" and covers(where, at), sequence, *self.verify())

    def swap_file(self):
        """Last week's in its place: the record alone, then the whole folder."""
        last = max(line["sequence"] for line in self.checkpoints())
        for names in (["record.db"], ["record.db", "checkpoints.jsonl"]):
            self.put_back()
            for name in names:
                shutil.copyfile(self.last_week / name, self.office.folder / name)
            self.must_name("files swapped for last week's", lambda where, what: what == "cut-off" and
                           covers(where, last), names, *self.verify())

    # What is kept of the ledger elsewhere.

    def checkpoints(self):
        (book,) = self.whole_station.glob("*.checkpoints")
        return [json.loads(line) for line in book.read_text().splitlines()]

    def alter_checkpoints(self):
        office_file = self.office.folder / "checkpoints.jsonl"
        self.put_back()
        office_file.unlink()
        self.must_name("checkpoints altered", lambda _, what: what == "checkpoints-missing", "gone", *self.verify())
        self.put_back()
        text = office_file.read_text()
        for at in self.sample([i for i, letter in enumerate(text) if letter in "0123456789abcdef"], self.bounds["checkpoints"]):
            letter = self.dice.choice([c for c in "0123456789abcdef" if c != text[at]])
            office_file.write_text(text[:at] + letter + text[at + 1:])
            self.must_name("checkpoints altered", lambda where, what: what in (
                "checkpoint-forged", "checkpoints-missing"), f"byte {at}", *self.verify())

    def hide(self):
        """All of it rewritten from the first entry on, and every checkpoint of the folder gone."""
        self.put_back()
        kept = self.folder / "on-paper.jsonl"
        kept.write_text(json.dumps(self.checkpoints()[-1]) + "\n")
        entries = [dict(entry) for entry in self.entries]
        entries[0]["at"] -= 1
        with altered_record.opened(self.record) as database:
            altered_record.write_anew(database, entries)
        (self.office.folder / "checkpoints.jsonl").unlink()
        self.must_name("rewritten and hidden", lambda _, what: what == "office-replaced", "all", *self.verify())
        shutil.rmtree(self.station)
        status, found = self.verify()
        if (status, found) != (0, []):  # nothing is left that could know
            self.faults.append(f"without any checkpoint: {status}, {found}")
        self.must_name("rewritten and hidden", lambda where, what: what == "checkpoint-contradicted",
                       "the station's folder too; one kept on paper", *self.verify("--checkpoint", kept))

    # Any byte of the file.

    def flip_bytes(self):
        self.put_back()
        whole = self.record.read_bytes()
        content = altered_record.content_of(self.record)
        for _ in range(self.bounds["bytes"]):
            at = self.dice.randrange(len(whole))
            flipped = bytearray(whole)
            flipped[at] ^= 1 << self.dice.randrange(8)
            self.put_record_back()
            self.record.write_bytes(flipped)
            status, found = self.verify()
            self.count("bytes of the file flipped")
            if status in (20, 1):
                self.count("flipped bytes reported")
            elif status == 0 and altered_record.content_of(self.record) == content:
                self.count("flipped bytes that say nothing")
            else:
                self.faults.append(f"byte {at}, {whole[at]} to {flipped[at]}: status {status}, said {found}")

    def all(self):
        status, found = self.verify()
        if (status, found) != (0, []):
            self.faults.append(f"the whole record: {status}, {found}")
        for trial in (self.alter_values, self.delete_rows, self.insert_rows, self.swap_rows, self.cut_off,
                      self.rewrite, self.swap_file, self.alter_checkpoints, self.hide, self.flip_bytes):
            self.put_back()
            trial()
            print(f"{trial.__name__}: {len(self.faults)} faults so far", file=sys.stderr, flush=True)


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--long", action="store_true")
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--figures")
    options = arguments.parse_args()
    if not os.access(office.PROGRAM, os.X_OK):
        sys.exit("LOADLIGHT must name the program")
    with tempfile.TemporaryDirectory(prefix="loadlight-tamper-") as folder:
        trials = Trials(pathlib.Path(folder), options)
        trials.all()
        told = [("ledger entries of the office", len(trials.entries)), *trials.counts.items(),
                ("alterations not named", len(trials.faults))]
    for fault in trials.faults[:40]:
        print(fault, file=sys.stderr)
    figures.tell(options.figures, "tamper", told)
    sys.exit(1 if trials.faults else 0)


if __name__ == "__main__":
    main()
