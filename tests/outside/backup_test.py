"""Checkpoints, backups and what comes back of them: an office put back answers as it did, and says what it lacks."""

import contextlib
import io
import json
import pathlib
import shutil
import sqlite3
import stat
import tarfile
import tempfile

import office

NEEDED = {"record.db", "keys.json", "checkpoints.jsonl"}


def packages_of(folder):
    with contextlib.closing(sqlite3.connect(folder / "record.db")) as database:
        return [package for (package,) in database.execute("SELECT id FROM packages ORDER BY id")]


class Kept(office.Case):
    """Each test has a demo office and a station of its own."""

    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(folder.cleanup)
        cls.made = pathlib.Path(folder.name)
        cls.cases = office.Office(cls.made / "office").ok(
            "init", "--demo", "--zone", "UTC", env={"LOADLIGHT_STATION": str(cls.made / "station")})

    def setUp(self):
        super().setUp()
        shutil.copytree(self.made, self.folder, dirs_exist_ok=True)
        self.station = self.folder / "station"
        self.office = office.Office(self.folder / "office")
        self.env = {"LOADLIGHT_STATION": str(self.station)}
        self.tar = self.folder / "office.tar"

    def run_on(self, folder, *arguments, operator="MB", **more):
        return office.Office(folder).run(*arguments, operator=operator, env=self.env, **more)

    def run_here(self, *arguments, **more):
        return self.run_on(self.office.folder, *arguments, **more)

    def backed_up(self):
        done = self.run_here("ledger", "backup", "--out", self.tar)
        self.assertEqual(done.status, 0, done.out + done.err.encode())
        return done.lines[0]

    def case(self, name):
        return next(line["package"] for line in self.cases if line["case"] == name)

    def alterations(self, folder, *options):
        found = self.run_on(folder, "ledger", "verify", *options)
        return found.status, [line["what"] for line in found.lines], found.err


class Checkpoints(Kept):
    def test_a_station_keeps_them_for_itself_alone(self):
        (book,) = self.station.glob("*.checkpoints")
        for path in (self.station, book, self.station / "signing.key"):
            self.assertEqual(0, stat.S_IMODE(path.stat().st_mode) & 0o077, path)
        inside = (self.office.folder / "checkpoints.jsonl").read_text().splitlines()
        self.assertEqual(len(inside), len(book.read_text().splitlines()))
        last = json.loads(inside[-1])
        self.assertEqual({"sequence", "hash", "at", "office", "key", "signature"}, set(last))
        status, what, said = self.alterations(self.office.folder)
        self.assertEqual((status, what), (0, []))
        self.assertIn(str(last["sequence"]), said)

    def test_without_a_home_work_goes_on_and_that_is_said(self):
        shutil.rmtree(self.station)
        blocked = self.folder / "blocked"
        blocked.write_text("")
        self.env = {"LOADLIGHT_STATION": str(blocked / "station")}
        checked = self.run_here("check", "--id", self.case("clear"))
        self.assertEqual(checked.lines[0]["outcome"], "clear")
        status, _, said = self.alterations(self.office.folder)
        self.assertEqual(status, 0)
        self.assertIn("No checkpoint outside", said)

    def test_one_taken_by_hand_vouches_for_its_own_entry(self):
        kept = self.folder / "stick.jsonl"
        taken = self.run_here("ledger", "checkpoint", "--out", kept, operator="JT")
        self.assertEqual(taken.status, 0, taken.err)
        self.assertEqual(taken.lines[0], json.loads(kept.read_text()))
        newest = self.office.events()[-1]
        self.assertEqual((newest["kind"], newest["hash"]), ("checkpoint-made", taken.lines[0]["hash"]))
        self.check_failure(self.run_here("ledger", "checkpoint", "--out", kept), "file-exists", 1)
        self.assertEqual(self.alterations(self.office.folder, "--checkpoint", kept)[:2], (0, []))
        self.check_failure(self.run_here("ledger", "verify", "--checkpoint", self.folder / "none"), "file-unreadable", 1)
        last = taken.lines[0]
        other = "0" if last["hash"][0] != "0" else "1"
        kept.write_text(json.dumps(last | {"hash": other + last["hash"][1:]}))
        self.assertEqual(self.alterations(self.office.folder, "--checkpoint", kept)[:2], (20, ["checkpoint-forged"]))

    def test_a_line_cut_off_is_said_and_harms_nothing(self):
        for path in (self.office.folder / "checkpoints.jsonl", *self.station.glob("*.checkpoints")):
            with open(path, "a", encoding="utf-8") as book:
                book.write('{"sequence":9')
        self.assertEqual(self.run_here("ledger", "checkpoint").status, 0)
        status, what, said = self.alterations(self.office.folder)
        self.assertEqual((status, what), (0, []))
        self.assertIn("checkpoints.jsonl", said)


class Backups(Kept):
    def answers(self, folder):
        """What the office says of every package, without what each check adds."""
        told = {}
        for package in packages_of(folder):
            reply = self.run_on(folder, "check", "--id", package)
            told[package] = (reply.status, reply.lines)
        return told

    def test_a_restored_office_answers_the_same_for_every_package(self):
        before = self.answers(self.office.folder)
        made = self.backed_up()
        self.assertEqual(0o600, stat.S_IMODE(self.tar.stat().st_mode))
        with tarfile.open(self.tar) as archive:
            self.assertLessEqual(NEEDED, set(archive.getnames()))
            self.assertTrue(all(member.mode == 0o600 for member in archive))
        into = self.folder / "elsewhere" / "office"
        back = self.run_here("ledger", "restore", self.tar, "--into", into)
        self.assertEqual((back.status, back.lines[0]["entry"]), (0, made["entry"]), back.err)
        self.assertEqual(0o700, stat.S_IMODE(into.stat().st_mode))
        self.assertEqual(["record-restored"], [event["kind"] for event in office.Office(into).events()][made["entry"]:])
        self.assertEqual("record-backed-up", self.office.events()[-1]["kind"])
        self.assertEqual(before, self.answers(into))
        self.assertGreater(len(before), 30)
        self.assertEqual(self.alterations(into)[:2], (0, []))

    def test_what_is_newer_elsewhere_is_said(self):
        made = self.backed_up()
        clear = self.case("clear")
        self.assertEqual(self.run_here("withdraw", clear, "--why", "torn").status, 0)
        last = self.run_here("ledger", "checkpoint").lines[0]
        old = self.folder / "old"
        self.office.folder.rename(old)
        back = self.run_here("ledger", "restore", self.tar, "--into", self.office.folder, "--beside", old)
        self.assertEqual(back.status, 0, back.err)
        self.assertEqual(back.lines[0]["missing"], last["sequence"] - made["entry"])
        self.assertEqual([(line["package"], line["restored"], line["beside"]) for line in back.lines[1:]],
                         [(clear, "loaded", "withdrawn")])
        self.assertIn("Hold", back.err)
        self.assertEqual(self.alterations(self.office.folder)[:2], (0, []), "given up by the station's own signature")
        self.assertEqual(self.run_here("check", "--id", clear).status, 0)

    def test_a_folder_put_back_by_hand_is_still_found_out(self):
        self.backed_up()
        self.run_here("ledger", "checkpoint")
        shutil.rmtree(self.office.folder)
        with tarfile.open(self.tar) as archive:
            archive.extractall(self.office.folder, filter="data")
        self.assertEqual(self.alterations(self.office.folder)[0], 20)
        self.assertIn("cut-off", self.alterations(self.office.folder)[1])

    def test_nothing_stands_in_its_way_or_is_written_over(self):
        self.tar.write_text("mine")
        self.check_failure(self.run_here("ledger", "backup", "--out", self.tar), "file-exists", 1)
        self.assertEqual(self.tar.read_text(), "mine")
        self.tar.unlink()
        self.check_failure(self.run_here("ledger", "backup", "--out", self.tar, operator="JT"), "lead-required", 20)
        self.check_failure(self.run_here("ledger", "backup", "--out", self.office.folder / "x.tar"), "bad-value", 2)
        self.backed_up()
        for into in (self.office.folder, self.tar):
            self.check_failure(self.run_here("ledger", "restore", self.tar, "--into", into), "file-exists", 1)
        into = self.folder / "new"
        self.check_failure(self.run_here("ledger", "restore", self.tar, "--into", into, operator="JT"),
                           "lead-required", 20)
        self.assertFalse(into.exists())
        self.assertEqual([], [path.name for path in self.folder.glob("**/.loadlight*")])

    def test_an_altered_record_is_not_handed_out(self):
        with contextlib.closing(sqlite3.connect(self.office.folder / "record.db")) as database:
            database.execute("UPDATE loads SET state = 'released' WHERE state = 'recalled'")
            database.commit()
        self.check_failure(self.run_here("ledger", "backup", "--out", self.tar), "record-altered", 20)
        self.assertFalse(self.tar.exists())
        self.assertNotEqual("record-backed-up", self.office.events()[-1]["kind"])


class BadBackups(Kept):
    def refused(self, archive, error="backup-unreadable", status=1):
        path = self.folder / "bad.tar"
        path.write_bytes(archive)
        into = self.folder / "into"
        self.check_failure(self.run_here("ledger", "restore", path, "--into", into), error, status)
        self.assertFalse(into.exists())
        self.assertEqual([], list(self.folder.glob(".loadlight*")))

    def packed(self, **changes):
        """The backup with another member, under a name that "_" stands for "/" in, or without one."""
        self.tar.unlink(missing_ok=True)
        self.backed_up()
        out = io.BytesIO()
        with tarfile.open(self.tar) as old, tarfile.open(fileobj=out, mode="w", format=tarfile.USTAR_FORMAT) as new:
            for member in old:
                bytes_of = old.extractfile(member).read()
                if member.name == changes.get("without"):
                    continue
                member.name = changes.get("name", member.name) if member.name == "keys.json" else member.name
                if member.name == changes.get("alter"):
                    bytes_of = changes["by"](bytes_of)
                member.size = len(bytes_of)
                new.addfile(member, io.BytesIO(bytes_of))
            for more in changes.get("more", ()):
                new.addfile(more)
        return out.getvalue()

    def test_what_is_no_backup_is_refused(self):
        whole = self.packed()
        link = tarfile.TarInfo("pins.json")
        link.type, link.linkname = tarfile.SYMTYPE, "/etc/passwd"
        twice = tarfile.TarInfo("keys.json")
        for archive in (b"", b"x" * 4000, whole[:700], whole[:len(whole) // 2], whole.rstrip(b"\0"),
                        self.packed(name="../keys.json"), self.packed(name="/tmp/keys.json"),
                        self.packed(name="extra"), self.packed(without="record.db"), self.packed(without="keys.json"),
                        self.packed(more=[link]), self.packed(more=[twice])):
            self.refused(archive)

    def test_one_that_was_altered_is_refused(self):
        def altered(record):
            path = self.folder / "altered.db"
            path.write_bytes(record)
            with contextlib.closing(sqlite3.connect(path)) as database:
                database.execute("UPDATE loads SET state = 'released' WHERE state = 'recalled'")
                database.commit()
            return path.read_bytes()
        self.refused(self.packed(alter="record.db", by=altered), "record-altered", 20)
        self.refused(self.packed(alter="keys.json", by=lambda _: b"{}"), "keys-unreadable")


if __name__ == "__main__":
    office.main()
