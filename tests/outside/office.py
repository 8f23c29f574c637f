"""An office in a folder of its own and the program run on it, from outside the process.

LOADLIGHT names the program. Standard library only; a test file ends with office.main().
"""

import collections
import datetime
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.environ.get("LOADLIGHT", "")
SOURCE = pathlib.Path(__file__).resolve().parents[2]
FAKETIME = sorted(pathlib.Path("/usr/lib").glob("*/faketime/libfaketime.so.1"))
SECONDS = 120  # no command takes this long, not even under a sanitizer on a busy machine

# A code each of everything a label and a load need, as commands.
TABLES = (
    ("operator", "add", "MB", "--name", "Maren Brooks", "--role", "lead", "--first-day", "2001-01-02"),
    ("operator", "add", "JT", "--name", "Jonas Tellow", "--first-day", "2001-01-02"),
    ("sterilizer", "add", "S1", "--name", "Pump unit", "--removal", "dynamic", "--type", "B"),
    ("sterilizer", "add", "N1", "--name", "Side unit", "--removal", "gravity", "--type", "N"),
    ("contents", "add", "EXAM", "--name", "Basic exam set", "--items", "mirror; probe"),
    ("contents", "add", "IMPL", "--name", "Implant tray", "--implant"),
    ("contents", "add", "TIPS", "--name", "Suction tips", "--hollow"),
    ("kind", "add", "P", "--name", "Pouch", "--wrapping", "pouch"),
    ("kind", "add", "U", "--name", "Unwrapped", "--wrapping", "unwrapped"),
    ("location", "add", "CAB1", "--name", "Cabinet 1"),
    ("stock", "add", "FILM", "--name", "Film", "--method", "thermal-transfer", "--dpi", "300",
     "--rating", "maker-sheet", "--rating-note", "invented sheet, page 2"),
)
READINGS = ("--low", "132.6", "--high", "134.1", "--minutes", "4.5", "--pressure", "293", "--drying", "22")
INDICATOR = ("--place", "external", "--type", "1", "--lot", "CI-0417", "--expires", "2099-12-31",
             "--result", "pass")
EYES = ("--dry", "yes", "--intact", "yes", "--indicator", "changed")
SHEET = ("--place", "pcd", "--type", "2", "--lot", "BD-0417", "--expires", "2099-12-31", "--result")
PROGRAM_OF_LOADS = "dynamic-132-wrapped"

Reply = collections.namedtuple("Reply", "status lines out err")


def parsed(out):
    """Every line one JSON object; anything else on standard output breaks the contract."""
    lines = [json.loads(line) for line in out.decode("utf-8").splitlines()]
    for line in lines:
        if not isinstance(line, dict):
            raise AssertionError(f"not a JSON object: {line!r}")
    return lines


def surroundings(at=None, **more):
    """The environment of a run: ours alone, so that a person's own office is never touched."""
    env = {"PATH": os.environ["PATH"], "HOME": "/nonexistent", "LC_ALL": "C.UTF-8", "TZ": "UTC"}
    env |= {name: value for name, value in os.environ.items() if name.startswith(("ASAN_", "UBSAN_", "LSAN_", "TSAN_"))}
    if at:  # the clock stands still at this instant (UTC)
        env |= {"LD_PRELOAD": str(FAKETIME[0]), "FAKETIME": at, "FAKETIME_DONT_FAKE_MONOTONIC": "1",
                "ASAN_OPTIONS": env.get("ASAN_OPTIONS", "") + ":verify_asan_link_order=0"}
    return env | more


def run(*arguments, at=None, json_wanted=True, input=b"", env=None, **more):
    command = [PROGRAM, *map(str, arguments), *(["--json"] if json_wanted else [])]
    done = subprocess.run(command, input=input, capture_output=True, timeout=SECONDS,
                          env=surroundings(at, **(env or {})), **more)
    lines = parsed(done.stdout) if json_wanted else []
    return Reply(done.returncode, lines, done.stdout, done.stderr.decode("utf-8", "replace"))


class Office:
    """One office's folder. `at` is the clock of its next runs, None for the machine's own."""

    def __init__(self, folder, at=None):
        self.folder = pathlib.Path(folder)
        self.at = at
        self.files = 0
        self.tested = set()  # sterilizers and days that have their air removal test

    def run(self, *arguments, operator="JT", **more):
        more.setdefault("at", self.at)
        who = ["--operator", operator] if operator else []
        return run("--office", self.folder, *who, *arguments, **more)

    def ok(self, *arguments, **more):
        reply = self.run(*arguments, **more)
        if reply.status != 0:
            raise AssertionError(f"{arguments}: exit {reply.status}: {reply.out!r} {reply.err}")
        return reply.lines

    def fill(self, *init_options):
        zone = () if "--zone" in init_options else ("--zone", "UTC")
        self.ok("init", *zone, *init_options)
        for row in TABLES:
            self.ok(*row, operator="MB")
        return self

    def copied_to(self, folder):
        shutil.copytree(self.folder, folder)
        copy = Office(folder, self.at)
        copy.tested = set(self.tested)
        return copy

    def pdf(self):
        self.files += 1
        return self.folder.parent / f"{self.folder.name}-{self.files}.pdf"

    def open_load(self, sterilizer="S1", program=PROGRAM_OF_LOADS, *more):
        return self.ok("load", "open", "--sterilizer", sterilizer, "--program", program, *more)[0]["load"]

    def test_air_removal(self, result="pass", sterilizer="S1"):
        """A Bowie-Dick load, read and decided; returns its load and the reply of `load release`."""
        load = self.open_load(sterilizer, PROGRAM_OF_LOADS, "--purpose", "bowie-dick")
        self.ok("load", "start", load)
        self.ok("load", "finish", load)
        self.ok("load", "indicator", load, *SHEET, result)
        return load, self.run("load", "release", load)

    def test_of_the_day(self, sterilizer="S1"):
        """Before the day's first load of a sterilizer with dynamic air removal; later ones need no other."""
        day = self.at[:10] if self.at else str(datetime.datetime.now(datetime.timezone.utc).date())
        if (sterilizer, day) not in self.tested and self.test_air_removal("pass", sterilizer)[1].status != 0:
            raise AssertionError(f"the air removal test of {sterilizer} on {day} did not pass")
        self.tested.add((sterilizer, day))

    def labels(self, load, count=1, contents="EXAM", out=None, *more):
        return self.ok("label", "--contents", contents, "--count", count, "--load", load, "--kind", "P",
                       "--packed", "--out", out or self.pdf(), *more)

    def running(self, count=1, contents="EXAM", sterilizer="S1", program=PROGRAM_OF_LOADS):
        """A load that was just started after the day's air removal test, and its printed packages."""
        if sterilizer == "S1":
            self.test_of_the_day()
        load = self.open_load(sterilizer, program)
        labels = self.labels(load, count, contents)
        self.ok("load", "add", load, *[label["package"] for label in labels])
        self.ok("load", "start", load)
        return load, labels

    def later(self, **time):
        """Turns a clock that stands still on; the machine's own is left alone."""
        if self.at:
            self.at = str(datetime.datetime.fromisoformat(self.at) + datetime.timedelta(**time))
        return self

    def finished(self, *of):
        """The same an hour later, ended."""
        load, labels = self.running(*of)
        self.later(hours=1)
        self.ok("load", "finish", load)
        return load, labels

    def evident(self, *of):
        """A load whose mechanical and chemical evidence is in, and in order."""
        load, labels = self.finished(*of)
        self.ok("load", "readings", load, *READINGS)
        self.ok("load", "indicator", load, *INDICATOR)
        return load, labels

    def released(self, *of):
        load, labels = self.evident(*of)
        self.ok("load", "release", load)
        return load, labels

    def events(self):
        return self.ok("ledger", "export", operator=None)


def codes(reply_line):
    return [reason["code"] for reason in reply_line["reasons"]]


class Case(unittest.TestCase):
    """A test with a folder of its own."""

    def setUp(self):
        self.folder = pathlib.Path(self.enterContext(tempfile.TemporaryDirectory(prefix="loadlight-outside-")))

    def check_failure(self, reply, error, status):
        """A failure by the contract: one line of code, text and action, and nothing uncaught."""
        self.assertEqual((reply.status, [line.get("error") for line in reply.lines]), (status, [error]),
                         reply.out + reply.err.encode())
        self.check_worded(reply)

    def check_worded(self, reply):
        for line in reply.lines:
            if "error" in line:
                self.assertLessEqual(set(line), {"error", "text", "action", "items"})
                self.assertTrue(line["text"].strip() and line["action"].strip(), line)
                self.assertNotIn("{", line["text"] + line["action"], "a gap that nothing filled")
        self.check_caught(reply)

    def check_caught(self, reply):
        self.assertIn(reply.status, (0, 1, 2, 10, 20), reply.err)
        for bad in ("terminate", "what()", "std::", "Sanitizer", "runtime error"):
            self.assertNotIn(bad, reply.out.decode("utf-8", "replace") + reply.err)


def filled_office(test_class, *init_options):
    """An office with its tables, made once for a class; tests take copies."""
    folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
    test_class.addClassCleanup(folder.cleanup)
    return Office(pathlib.Path(folder.name) / "office").fill(*init_options)


def main():
    if not os.access(PROGRAM, os.X_OK):
        sys.exit("LOADLIGHT must name the program")
    if not FAKETIME:
        sys.exit("libfaketime is missing")
    result = unittest.main(exit=False, verbosity=1).result
    print(f"{result.testsRun} tests ran, {len(result.skipped)} skipped")
    sys.exit(0 if result.wasSuccessful() and result.testsRun and not result.skipped else 1)
