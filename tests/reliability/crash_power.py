"""The power goes: what no sync had brought to the disk may be lost, all of it, some of it, or half of a write.

A way of a load is gone with every write, sync and name written down (io_faults.cpp). From that the folder is
made anew as a disk may hold it when the power went at one moment: each file as it was at its own last sync, each
name as at the last sync of its folder, and of what came later nothing, everything, or some sectors and the first
few names. Then what was acknowledged by that moment must be there.
"""

import collections
import concurrent.futures
import json
import os
import pathlib
import random
import shutil
import sqlite3
import subprocess

import fault_journal
import fault_layer
import office

SECTOR = 512
AT_ONCE = 2
NOTHING, EVERYTHING, SOME = "nothing", "everything", "some"

# By when (in bytes of the journal) how many events, and which PDFs, were acknowledged.
Mark = collections.namedtuple("Mark", "size events pdfs")
Cuts = collections.namedtuple("Cuts", "count lost at_syncs complaints")
Cut = collections.namedtuple("Cut", "index kept seed")


class Inode:
    def __init__(self):
        self.synced, self.now, self.since = bytearray(), bytearray(), []

    @staticmethod
    def put(content, offset, bytes_):
        if len(content) < offset:
            content.extend(bytes(offset - len(content)))
        content[offset:offset + len(bytes_)] = bytes_

    @staticmethod
    def cut(content, size):
        del content[size:]
        content.extend(bytes(size - len(content)))

    def write(self, offset, bytes_):
        self.put(self.now, offset, bytes_)
        self.since.append((offset, bytes_))

    def truncate(self, size):
        self.cut(self.now, size)
        self.since.append((size, None))

    def sync(self):
        self.synced, self.since = bytearray(self.now), []

    def after(self, kept, dice):
        if kept == EVERYTHING:
            return self.now
        content = bytearray(self.synced)
        for offset, bytes_ in self.since if kept == SOME else ():
            if bytes_ is None:
                if dice.random() < 0.5:
                    self.cut(content, offset)
                continue
            for at in range(0, len(bytes_), SECTOR):
                if dice.random() < 0.5:
                    self.put(content, offset + at, bytes_[at:at + SECTOR])
        return content


class Disk:
    """Plays a journal, call by call. Names change in the order in which they were changed."""

    FOLDER = "folder"

    def __init__(self):
        self.synced, self.now, self.since = {}, {}, []
        self.open = {}

    def change(self, folder, path, what):
        """`what`: an inode, FOLDER, None for a name that goes, or what apply() makes of a rename."""
        self.since.append((folder, path, what))
        self.apply(self.now, path, what)

    @staticmethod
    def apply(names, path, what):
        if isinstance(what, tuple):  # a rename: the name that goes, and the inode that comes
            names.pop(what[0], None)
            names[path] = what[1]
        elif what is None:
            names.pop(path, None)
        else:
            names[path] = what

    def sync_folder(self, folder):
        later = []
        for change in self.since:
            if change[0] == folder:
                self.apply(self.synced, *change[1:])
            else:
                later.append(change)
        self.since = later

    def play(self, entry):
        key, folder = (entry.process, entry.file), os.path.dirname(entry.path)
        if entry.kind == fault_journal.OPEN:
            self.play_open(key, entry)
        elif entry.kind == fault_journal.CLOSE:
            self.open.pop(key, None)
        elif entry.kind == fault_journal.WRITE:
            self.open[key].write(entry.offset, entry.bytes)
        elif entry.kind == fault_journal.TRUNCATE:
            self.open[key].truncate(entry.offset)
        elif entry.kind == fault_journal.SYNC:
            self.play_sync(self.open[key])
        elif entry.kind == fault_journal.RENAME:
            self.play_rename(entry)
        elif entry.kind == fault_journal.LINK:
            self.change(os.path.dirname(entry.second), entry.second, self.now[entry.path])
        elif entry.kind == fault_journal.UNLINK:
            self.change(folder, entry.path, None)
        elif entry.kind == fault_journal.FOLDER:
            self.change(folder, entry.path, self.FOLDER)

    def play_open(self, key, entry):
        if entry.second == "made":
            self.change(os.path.dirname(entry.path), entry.path, Inode())
        held = self.now.get(entry.path, self.FOLDER)
        self.open[key] = entry.path if held == self.FOLDER else held
        if entry.second == "emptied":
            held.truncate(0)

    def play_sync(self, held):
        if isinstance(held, Inode):
            held.sync()
        else:
            self.sync_folder(held)

    def play_rename(self, entry):
        """Both names at once, or neither."""
        self.change(os.path.dirname(entry.second), entry.second, (entry.path, self.now[entry.path]))

    def after(self, kept, dice):
        """The files by name, as they may be once the power is back."""
        names = dict(self.synced)
        some = self.since[:dice.randint(0, len(self.since))] if kept == SOME else self.since
        for _, path, what in some if kept != NOTHING else ():
            self.apply(names, path, what)
        return {path: what if what == self.FOLDER else bytes(what.after(kept, dice)) for path, what in names.items()}


class WatchedOffice(fault_layer.StationedOffice):
    """Marks what is acknowledged after every command."""

    def __init__(self, place, journal):
        super().__init__(place.office)
        self.place, self.journal, self.marks, self.pdfs, self.told = place, journal, [], [], []

    def run(self, *arguments, **more):
        reply = super().run(*arguments, env=self.place.environment(journal=self.journal), **more)
        if reply.status == 0 and "--out" in arguments:
            self.pdfs = [*self.pdfs, arguments[arguments.index("--out") + 1]]
        self.told = events_in(self.place.office / "record.db")
        self.mark(len(self.told))
        return reply

    def mark(self, events):
        self.marks.append(Mark(self.journal.stat().st_size, events, self.pdfs))

    def pdf(self):
        self.files += 1
        return self.place.out / f"{self.files}.pdf"

    def scan(self, package, times):
        """One program that checks again and again; each answer is acknowledged when its line is out."""
        scanning = subprocess.Popen([office.PROGRAM, "--office", self.folder, "--json", "check", "--wedge"],
                                    stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                    env=self.place.environment(journal=self.journal))
        count = len(self.told)
        for number in range(times):
            scanning.stdin.write(f"{package}\n".encode())
            scanning.stdin.flush()
            json.loads(scanning.stdout.readline())
            self.mark(count + number + 1)
        scanning.communicate()
        self.told = events_in(self.place.office / "record.db")


def events_in(record):
    """Of a record that nobody has open, without a trace."""
    if not record.exists():
        return []
    database = sqlite3.connect(f"file:{record}?immutable=1", uri=True)
    rows = database.execute("SELECT kind, subject FROM ledger ORDER BY sequence").fetchall()
    database.close()
    return rows


def gone_way(folder, scans):
    """An office made, filled and worked in; its journal and its marks."""
    place, journal = fault_layer.Place(folder), folder / "journal"
    place.reset(None)
    journal.touch()
    watched = WatchedOffice(place, journal)
    watched.fill()
    _, labels = watched.released(3)
    packages = [label["package"] for label in labels]
    watched.ok("shelve", *packages, "--location", "CAB1")
    watched.scan(packages[0], scans)
    watched.ok("open", packages[1], *office.EYES)
    watched.ok("withdraw", packages[2], "--why", "wet")
    return place, journal.read_bytes(), watched


class PowerCut:
    def __init__(self, place, was, watched):
        self.place, self.was, self.watched = place, str(was), watched

    def lay(self, files):
        shutil.rmtree(self.place.folder, ignore_errors=True)
        self.place.out.mkdir(parents=True)
        for path, content in sorted(files.items()):
            there = pathlib.Path(str(self.place.folder) + path[len(self.was):])
            if content == Disk.FOLDER:
                there.mkdir(exist_ok=True)
            elif there.parent.exists():  # a name in a folder that is lost is lost
                there.write_bytes(content)

    def judge(self, files, mark):
        """What is wrong with a disk that holds these files."""
        self.lay(files)
        wrong = []
        for path in self.place.out.iterdir():
            if path.suffix == ".pdf" and not self.place.pdf_is_whole_or_absent(path.name):
                wrong.append(f"half a PDF: {path.name}")
        wrong += [f"lost: {pathlib.Path(pdf).name}" for pdf in mark.pdfs
                  if not (self.place.out / pathlib.Path(pdf).name).exists()]
        return wrong + self.judge_record(mark)

    def judge_record(self, mark):
        if not (self.place.office / "record.db").exists():
            return [f"lost: the office with {mark.events} events"] if mark.events else self.judge_new_office()
        if not mark.events and not (self.place.office / "keys.json").exists():
            return self.judge_new_office()
        if (verified := self.place.verified()) != (0, []):
            return [f"the record does not verify: {verified}"]
        events = self.place.events()
        if events != self.watched.told[:len(events)]:
            return [f"other events: {events[-3:]}"]
        if len(events) < mark.events:
            return [f"{len(events)} events of {mark.events} acknowledged"]
        if not events:
            return self.judge_new_office()
        reply = self.place.said("check", "--id", "0000000000")
        if reply.status != 10 or len(self.place.events()) != len(events) + 1:
            return [f"the next start: {reply.status} {reply.out}"]
        return []

    def judge_new_office(self):
        """Its making was cut off: it can be made again."""
        reply = self.place.said("init", "--zone", "UTC")
        return [] if reply.status == 0 and self.place.verified() == (0, []) else [f"init: {reply.status} {reply.out}"]


def chosen_cuts(entries, wanted, dice):
    """Before and after every sync with nothing, everything and some kept; then anywhere."""
    at_syncs = [Cut(index + after, kept, dice.random()) for index, entry in enumerate(entries)
                if entry.kind == fault_journal.SYNC for after in (0, 1) for kept in (NOTHING, EVERYTHING, SOME)]
    anywhere = [Cut(dice.randrange(len(entries)), SOME, dice.random()) for _ in range(wanted)]
    if len(at_syncs) > wanted * 2 // 3:
        at_syncs = dice.sample(at_syncs, wanted * 2 // 3)
    cuts = at_syncs + anywhere[:wanted - len(at_syncs)]
    return sorted(cuts, key=lambda cut: cut.index), len(at_syncs)


def played(held, entries, cuts, marks):
    """Every cut with the files that it leaves and what was acknowledged by then."""
    disk, done, size, latest = Disk(), 0, 0, Mark(0, 0, [])
    waiting = list(marks)
    for cut in cuts:
        while done < cut.index:
            entry = entries[done]
            disk.play(entry)
            size += fault_journal.size_of(entry)
            done += 1
        while waiting and waiting[0].size <= size:
            latest = waiting.pop(0)
        yield cut, disk.after(cut.kept, random.Random(cut.seed)), latest


def cut_all(folder, wanted, seed):
    place, held, watched = gone_way(folder / "way", 12 if wanted < 1000 else 400)
    entries = list(fault_journal.entries(held))
    cuts, at_syncs = chosen_cuts(entries, wanted, random.Random(seed))
    places = [fault_layer.Place(folder / f"cut-{number}") for number in range(AT_ONCE)]
    complaints = []

    def work(number, todo):
        power = PowerCut(places[number], place.folder, watched)
        return [f"power cut at {cut.index} of {len(entries)}, {cut.kept} kept: {wrong}"
                for cut, files, mark in todo for wrong in power.judge(files, mark)[:1]]

    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as crowd:
        batch = []
        for each in played(held, entries, cuts, watched.marks):
            batch.append(each)
            if len(batch) == 40:
                complaints += sum(crowd.map(work, range(AT_ONCE), (batch[0::2], batch[1::2])), [])
                batch = []
        complaints += sum(crowd.map(work, range(AT_ONCE), (batch[0::2], batch[1::2])), [])
    return Cuts(len(cuts), len(complaints), at_syncs, complaints)
