"""The program run on a faulty disk (io_faults.cpp), and the office before each step of a load's way.

LOADLIGHT names the program, IO_FAULTS the folder of the library. Standard library only.
"""

import collections
import json
import os
import pathlib
import shutil
import sqlite3
import struct
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "outside"))
import office  # noqa: E402

LIBRARY = os.path.join(os.environ.get("IO_FAULTS", ""), "io_faults.so")
IN_MEMORY = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
TRANSACTION = 1  # the trace's phase between a transaction's first write and the sync that commits it

Trace = collections.namedtuple(
    "Trace", "calls failed phase commits first_write last_commit opens writes syncs renames")
Done = collections.namedtuple("Done", "status lines err trace")
# `stage`: the folder that an office is copied from, None for none; `leaves`: the exit status without a fault;
# `input`: what is scanned, a line a change of its own.
Flow = collections.namedtuple("Flow", "name stage arguments operator leaves pdf input", defaults=(b"",))
SCANS = 3


def whole_lines(out):
    """The JSON lines that were printed to their end: whoever was killed may have printed half of one."""
    return [json.loads(line) for line in out.split(b"\n")[:-1]]


class StationedOffice(office.Office):
    """An office whose station keeps what is its own beside it, not at home."""

    @property
    def station(self):
        return self.folder.parent / "station"

    def run(self, *arguments, env=None, **more):
        return super().run(*arguments, env={"LOADLIGHT_STATION": str(self.station)} | (env or {}), **more)


class Place:
    """A folder that faults may happen in: `office`, `station` and `out` lie in it. What watches lies beside it."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder) / "faulty"
        self.trace = pathlib.Path(folder) / "trace"
        self.office = self.folder / "office"
        self.station = self.folder / "station"
        self.out = self.folder / "out"
        self.bare = {"LOADLIGHT_STATION": str(self.station)}  # an environment without faults

    def reset(self, stage):
        shutil.rmtree(self.folder, ignore_errors=True)
        self.folder.mkdir(parents=True)
        if stage:
            shutil.copytree(stage, self.folder, dirs_exist_ok=True)
        self.out.mkdir()

    def command(self, flow):
        who = ["--operator", flow.operator] if flow.operator else []
        told = [str(self.out / argument[4:]) if str(argument).startswith("out:") else str(argument)
                for argument in flow.arguments]
        return [office.PROGRAM, "--office", str(self.office), *who, *told, "--json"]

    def environment(self, plan="", journal=None, reads=False):
        more = {"LD_PRELOAD": LIBRARY, "LOADLIGHT_FAULTS_FOLDER": str(self.folder),
                "LOADLIGHT_FAULTS_TRACE": str(self.trace), "LOADLIGHT_FAULTS_PLAN": plan}
        if journal:
            more["LOADLIGHT_FAULTS_JOURNAL"] = str(journal)
        if reads:
            more["LOADLIGHT_FAULTS_READS"] = "1"
        sanitizer = os.environ.get("ASAN_OPTIONS", "") + ":verify_asan_link_order=0"
        return office.surroundings(ASAN_OPTIONS=sanitizer) | self.bare | more

    def run(self, flow, plan="", **more):
        self.trace.unlink(missing_ok=True)
        done = subprocess.run(self.command(flow), capture_output=True, timeout=office.SECONDS, input=flow.input,
                              env=self.environment(plan, **more))
        return Done(done.returncode, whole_lines(done.stdout), done.stderr.decode("utf-8", "replace"), self.traced())

    def run_unwatched(self, flow):
        done = subprocess.run(self.command(flow), capture_output=True, timeout=office.SECONDS, input=flow.input,
                              env=office.surroundings() | self.bare)
        return Done(done.returncode, whole_lines(done.stdout), done.stderr.decode("utf-8", "replace"), None)

    def traced(self):
        held = self.trace.read_bytes() if self.trace.exists() else b""
        return Trace(*struct.unpack("<10Q", held)) if len(held) == 80 else Trace(*[0] * 10)

    def said(self, *arguments):
        return office.run("--office", self.office, *arguments, env=self.bare)

    def verified(self):
        """What `ledger verify` finds: the first run of the program after whatever befell the office."""
        done = self.said("ledger", "verify")
        return (done.status, done.lines)

    def events(self):
        """(kind, subject) of every event, read without the program."""
        record = self.office / "record.db"
        if not record.exists():
            return []
        with sqlite3.connect(record) as database:
            kinds = database.execute("SELECT kind, subject FROM ledger ORDER BY sequence").fetchall()
        database.close()
        return kinds

    def pdf_is_whole_or_absent(self, name):
        path = self.out / name
        if not path.exists():
            return True
        held = path.read_bytes()
        return held.startswith(b"%PDF") and held.rstrip().endswith(b"%%EOF")


class Stages:
    """One load's way, the office kept before every step of it."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.office = StationedOffice(self.folder / "grown" / "office").fill()
        self.flows = []
        self.grow()

    def kept(self, name):
        copy = self.folder / f"before-{name}"
        shutil.copytree(self.folder / "grown", copy)
        return copy

    def step(self, name, *arguments, leaves=0, pdf="", operator="JT", done=True):
        self.flows.append(Flow(name, self.kept(name), arguments, operator, leaves, pdf))
        told = [str(self.folder / argument[4:]) if str(argument).startswith("out:") else argument
                for argument in arguments]
        return self.office.ok(*told, operator=operator) if done else None

    def grow(self):
        self.office.test_of_the_day()
        load = self.step("load open", "load", "open", "--sterilizer", "S1", "--program",
                         office.PROGRAM_OF_LOADS)[0]["load"]
        labels = self.step("label", "label", "--contents", "EXAM", "--count", "3", "--load", load, "--kind", "P",
                           "--packed", "--out", "out:labels.pdf", pdf="labels.pdf")
        packages = [label["package"] for label in labels]
        self.step("label replace", "label", "replace", packages[0], "--kind", "P", "--out", "out:again.pdf",
                  pdf="again.pdf", done=False)
        self.step("load add", "load", "add", load, *packages)
        self.step("load start", "load", "start", load)
        self.step("load finish", "load", "finish", load)
        self.step("load readings", "load", "readings", load, *office.READINGS)
        self.step("load indicator", "load", "indicator", load, *office.INDICATOR)
        self.step("load release", "load", "release", load)
        self.step("check", "check", "--id", packages[0], done=False)
        self.flows.append(Flow("check stream", self.flows[-1].stage, ("check", "--wedge"), "", 0, "",
                               f"{packages[0]}\n".encode() * SCANS))
        self.step("open", "open", packages[1], *office.EYES, done=False)
        self.step("shelve", "shelve", *packages, "--location", "CAB1")
        self.photograph(labels)
        self.step("audit", "audit", "--images", self.folder / "photos", "--location", "CAB1", "--report",
                  "out:audit.pdf", pdf="audit.pdf", done=False)
        self.flows.append(Flow("init", None, ("init", "--zone", "UTC"), "", 0, ""))

    def photograph(self, labels):
        """The sheet of labels as a picture of the shelf."""
        (self.folder / "photos").mkdir()
        sheet = self.folder / "photos" / "shelf"
        subprocess.run(["pdftoppm", "-r", "100", "-gray", "-png", "-singlefile", self.folder / "labels.pdf", sheet],
                       check=True)


def temporary():
    return tempfile.TemporaryDirectory(prefix="loadlight-faults-", dir=IN_MEMORY)


def must_be_built():
    for what, path in (("LOADLIGHT", office.PROGRAM), ("IO_FAULTS", LIBRARY)):
        if not os.access(path, os.X_OK):
            sys.exit(f"{what} must name what was built")
