"""Stations at work in processes of their own (station_work.cpp), and what their journals and the ledger say."""
import json
import os
import pathlib
import subprocess
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "outside"))
import postgres  # noqa: E402

PROGRAM = os.environ.get("STATION_WORK", "station_work")
OFFICE = ROLE = "harbour"
DATABASE = "practice"


def say(server, sql, database="postgres"):
    """What psql answers, as text."""
    done = subprocess.run([postgres.BINARIES[-1] / "psql", "-X", "-q", "-A", "-t", "-v", "ON_ERROR_STOP=1", "-d",
                           server.address("postgres", database), "-c", sql], check=True, capture_output=True, text=True)
    return done.stdout.strip()


def station(*words, **more):
    return subprocess.run([PROGRAM, *map(str, words)], check=True, **more)


def make_office(server):
    """An office that has its tables and nothing yet done; its address."""
    say(server, f"CREATE DATABASE {DATABASE}")
    admin, address = server.address("postgres", DATABASE), server.address(ROLE, DATABASE)
    station("prepare", admin, "none", "postgres")
    say(server, f"CREATE ROLE {ROLE} LOGIN IN ROLE loadlight_station")
    station("prepare", admin, OFFICE, ROLE)
    station("found", address)
    return address


class Workday:
    """Stations that work on one office until each has done so many operations."""

    def __init__(self, folder, address, stations, operations, seed):
        begun = int(time.time() * 1000)
        self.begun = time.monotonic()
        self.journals = {f"W{i}": pathlib.Path(folder) / f"W{i}.journal" for i in range(1, stations + 1)}
        self.processes = [subprocess.Popen([PROGRAM, "work", address, name, str(operations), str(seed * 1000 + i), str(begun),
                                            str(journal)]) for i, (name, journal) in enumerate(self.journals.items())]

    def wait(self, seconds):
        """How long it took."""
        try:
            for process in self.processes:
                assert process.wait(timeout=max(1, seconds - (time.monotonic() - self.begun))) == 0, "a station gave up"
        finally:
            for process in self.processes:
                process.kill()
        return time.monotonic() - self.begun

    def lines(self):
        return {name: [Line(text) for text in journal.read_text(encoding="utf-8").splitlines()]
                for name, journal in self.journals.items()}


class Line:
    """A line of a journal: one operation that is over."""

    def __init__(self, text):
        number, self.operation, self.subject, self.outcome, repeated, at, commits = text.split("\t")
        self.number, self.repeated, self.at = int(number), int(repeated), int(at)
        self.commits = [(int(last), int(entries), digest) for last, entries, digest in
                        (commit.split(":") for commit in commits.split(",") if commit)]


class Entry:
    def __init__(self, text):
        sequence, self.chain, link, self.hash, self.kind, self.subject, self.body = text.split("\t")
        self.sequence, self.link = int(sequence), int(link)


def read_ledger(address, folder):
    path = pathlib.Path(folder) / "ledger"
    with path.open("wb") as out:
        station("ledger", address, stdout=out)
    with path.open(encoding="utf-8") as lines:
        return [Entry(line.rstrip("\n")) for line in lines]


def chains_of(ledger):
    chains = {}
    for entry in ledger:
        chains.setdefault(entry.chain, []).append(entry)
    for chain in chains.values():
        chain.sort(key=lambda entry: entry.link)
    return chains


# What an operation that is done has left in the ledger, among other things. A release that holds leaves nothing.
EVENTS = {"print": {"labels-printed"}, "load-open": {"load-opened"}, "load-add": {"packages-added"},
          "load-start": {"load-started"}, "load-finish": {"load-finished"}, "readings": {"readings-recorded"},
          "indicator": {"indicator-read"}, "release": {"load-released", "load-quarantined", "load-failed"},
          "check": {"package-checked"}, "open": {"package-opened"}, "opened": {"internal-indicator-read"},
          "withdraw": {"package-withdrawn"}, "shelve": {"packages-shelved"}, "incident-step": {"incident-step-done"},
          "incident-close": {"incident-closed"}}
# Of the same subject they can be only once.
ONCE = ("package-opened", "load-opened", "load-started", "load-finished", "load-released", "package-withdrawn",
        "incident-closed")


def check_order(name, chain):
    """Every link there, each chained to the one before: the hashes themselves are what `verify` looks at."""
    assert [entry.link for entry in chain] == list(range(1, len(chain) + 1)), f"{name}'s chain has a hole or a double"


def check_once(ledger):
    seen = set()
    for entry in ledger:
        if entry.kind not in ONCE:
            continue
        what = (entry.kind, entry.subject)
        assert what not in seen, f"twice: {what}"
        seen.add(what)


def check_numbers(ledger):
    """Every load number was given out once: by the labels that brought the load into the record."""
    given = {}
    for entry in ledger:
        if entry.kind != "labels-printed":
            continue
        for record in json.loads(entry.body)["records"]:
            if record["table"] == "loads":
                assert entry.subject not in given, f"{entry.subject} was given out twice"
                given[entry.subject] = entry
    return len(given)


class Journal:
    """What a station was told, held against its chain in the ledger: all of it is there, in order, and nothing else but
    what it was told that nobody can tell. `lost_before` is a moment: of what was told until then an end may be missing."""

    def __init__(self, name, lines, chain, lost_before=None):
        self.name, self.chain, self.at = name, chain, 0
        self.by_hash = {entry.hash: entry for entry in chain}
        self.doubtful = []  # operations since the last entry, of which it cannot be told whether they were written
        self.found = self.unwritten = 0
        self.lost = []
        for line in lines:
            self.hold(line, lost_before)
        self.settle(len(chain))

    def hold(self, line, lost_before):
        entries = []
        for last, count, digest in line.commits:
            entry = self.by_hash.get(digest)
            if not entry and lost_before and line.at <= lost_before:
                self.lost.append(line)
                continue
            assert entry, f"{self.name} lost: {line.operation} of {line.subject}, entry {last}"
            assert not self.lost or line.at > lost_before, f"{self.name}: a hole before {line.operation} of {line.subject}"
            assert entry.sequence == last, f"{line.operation} of {line.subject} is elsewhere than was told"
            self.settle(entry.link - count)
            entries += self.chain[self.at:self.at + count]
            self.at += count
        if line.outcome == "done" and (entries or line.operation != "release") and line not in self.lost:
            assert any(entry.kind in EVENTS[line.operation] for entry in entries), f"{line.operation}: no such entry"
        # A check that holds because nobody can tell is told as holding.
        if line.outcome == "commit-unknown" or (line.operation, line.outcome) == ("check", "office-unreadable"):
            self.doubtful.append(line)

    def settle(self, place):
        """What stands before this place and was not told is what was in doubt."""
        between = self.chain[self.at:place]
        assert place >= self.at, f"{self.name}: entries in another order than they were told"
        for line in self.doubtful:
            written = any(entry.kind in EVENTS[line.operation] for entry in between)
            self.found += written
            self.unwritten += not written
        for entry in between:
            assert any(entry.kind in EVENTS[line.operation] | {"package-checked", "incident-opened"} for line in self.doubtful), \
                f"{self.name}: {entry.kind} of {entry.subject}, of which nobody was told"
        self.doubtful = []
        self.at = place
