"""Killed at any instant, and cut off from power: what was acknowledged is there, nothing is half there.

Kills are spread evenly over the measured run of each command: over its calls for files (before, amid and after
one), over its time, and over the time of a program that nothing watches, on an ordinary disk. Which of them fell
between a transaction's first write and the sync that commits it is counted by io_faults.cpp.

    python3 crash.py [--long] [--seed N] [--figures FILE]
"""

import argparse
import collections
import concurrent.futures
import pathlib
import random
import signal
import subprocess
import sys
import tempfile
import time

import crash_power
import fault_journal
import fault_layer
import faults
import figures
import office

Amount = collections.namedtuple("Amount", "by_call by_time unwatched within power")
SHORT = Amount(28, 14, 14, 12, 60)
LONG = Amount(600, 350, 350, 200, 2000)
AT_ONCE = 2
BEFORE, AMID, AFTER = 0, 1, 2
AUDIT_IS_RARE = 4  # an audit takes as long as ten others

# `at`: the number of the call, or the share of the command's time.
Kill = collections.namedtuple("Kill", "flow by at how")
Measured = collections.namedtuple("Measured", "events calls kinds seconds bare_seconds first_write last_commit")


def measure(place, flow):
    events, calls, kinds = faults.clean_run(place, flow)
    trace = place.traced()
    place.reset(flow.stage)
    begun = time.monotonic()
    place.run(flow)
    watched = time.monotonic() - begun
    place.reset(flow.stage)
    begun = time.monotonic()
    place.run_unwatched(flow)
    return Measured(events, calls, kinds, watched, time.monotonic() - begun, trace.first_write, trace.last_commit)


def evenly(count):
    return [(number + 0.5) / count for number in range(count)]


def kills_of(flow, measured, amount, dice):
    """Of one command, of each sort as many as `amount` says."""
    for share in evenly(amount.by_call):
        at = 1 + int(share * measured.calls)
        how = dice.choice((BEFORE, AMID, AFTER) if measured.kinds.get(at) == fault_journal.WRITE else (BEFORE, AFTER))
        yield Kill(flow, "call", at, how)
    for share in evenly(amount.within):
        yield Kill(flow, "call", 1 + measured.first_write + int(share * (measured.last_commit - measured.first_write)),
                   BEFORE)
    for share in evenly(amount.by_time):
        yield Kill(flow, "time", share, AFTER)
    for share in evenly(amount.unwatched):
        yield Kill(flow, "unwatched", share, AFTER)


def shared_out(amount, flows):
    """A command's part of the whole, rounded up."""
    weight = sum(1 if flow.name != "audit" else 1 / AUDIT_IS_RARE for flow in flows)
    for flow in flows:
        part = (1 if flow.name != "audit" else 1 / AUDIT_IS_RARE) / weight
        yield flow, Amount(*(-int(-number * part // 1) for number in amount))


class Victim:
    """One kill, and everything that must hold afterwards."""

    def __init__(self, place, kill, measured):
        self.place, self.kill, self.flow, self.measured = place, kill, kill.flow, measured
        self.complaints, self.died, self.phase = [], False, 0

    def complain(self, what, *values):
        where = f"{self.flow.name}: killed by {self.kill.by} at {self.kill.at} ({self.kill.how})"
        self.complaints.append(f"{where}: {what} " + " ".join(map(repr, values)))

    def run(self):
        self.place.reset(self.flow.stage)
        self.before = len(self.place.events())
        if self.kill.by == "call":
            done = self.place.run(self.flow, f"kill {self.kill.at} {self.kill.how}")
            self.status, self.lines, self.phase = done.status, done.lines, done.trace.phase
        else:
            self.run_by_time()
        self.died = self.status == -signal.SIGKILL
        if not self.died and self.status != self.flow.leaves:
            self.complain("exit", self.status, self.lines)
        self.check()
        return self

    def run_by_time(self):
        watched = self.kill.by == "time"
        self.place.trace.unlink(missing_ok=True)
        environment = self.place.environment() if watched else office.surroundings() | self.place.bare
        seconds = self.measured.seconds if watched else self.measured.bare_seconds
        process = subprocess.Popen(self.place.command(self.flow), env=environment, stdin=subprocess.PIPE,
                                   stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
        process.stdin.write(self.flow.input)
        process.stdin.close()
        process.stdin = None
        time.sleep(self.kill.at * seconds)
        process.kill()
        self.lines = fault_layer.whole_lines(process.communicate()[0])
        self.status = process.returncode
        self.phase = self.place.traced().phase if watched else 0

    def check(self):
        making = not (self.place.office / "keys.json").exists()  # an init that had written nothing yet
        if not making and (verified := self.place.verified()) != (0, []):
            self.complain("the record does not verify", verified)
        new, expected = self.place.events()[self.before:], self.measured.events
        if making and new:
            self.complain("a record without keys", new)
        if self.lines and len(new) < (len(self.lines) if self.flow.input else len(expected)):
            self.complain("acknowledged and not there", self.lines, new)
        if new and new != (expected[:len(new)] if self.flow.name in faults.ANY_TIME else expected):
            self.complain("half there", new)
        if self.flow.pdf and not self.place.pdf_is_whole_or_absent(self.flow.pdf):
            self.complain("half a PDF")
        if self.flow.pdf and self.flow.name != "audit" and new and not (self.place.out / self.flow.pdf).exists():
            self.complain("in the record and not printed")
        self.check_next_start(new)

    def check_next_start(self, new):
        """The same command again unless it is done; then a check, which must be written."""
        if new != self.measured.events or self.flow.name in faults.ANY_TIME:
            done = self.place.run_unwatched(self.flow)
            left = self.place.events()[self.before + len(new):]
            if done.status != self.flow.leaves or faults.kinds_of(left) != faults.kinds_of(self.measured.events):
                self.complain("the next run", done.status, done.lines, done.err)
        else:
            count = len(self.place.events())
            reply = self.place.said("check", "--id", "0000000000")
            if reply.status != 10 or len(self.place.events()) != count + 1:
                self.complain("the next start", reply.status, reply.out)
        if self.place.verified() != (0, []):
            self.complain("the record does not verify after the next start")


def run_all(folder, on_disk, kills, measured):
    """Those that nothing watches on an ordinary disk, where a sync takes its time."""
    def work(number):
        places = {True: fault_layer.Place(pathlib.Path(on_disk) / f"place-{number}"),
                  False: fault_layer.Place(pathlib.Path(folder) / f"place-{number}")}
        for place in places.values():
            place.folder.mkdir(parents=True)
        return [Victim(places[kill.by == "unwatched"], kill, measured[kill.flow.name]).run()
                for kill in kills[number::AT_ONCE]]

    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as crowd:
        return [victim for victims in crowd.map(work, range(AT_ONCE)) for victim in victims]


def tell(path, victims, cuts):
    died = [victim for victim in victims if victim.died]
    by = collections.Counter(victim.kill.by for victim in died)
    within = sum(victim.phase == fault_layer.TRANSACTION for victim in died)
    figures.tell(path, "crash", [
        ("commands killed", len({victim.flow.name for victim in died})), ("kills", len(died)),
        ("kills survived", sum(not victim.complaints for victim in died)),
        ("of them between a first write and its commit", within),
        ("of them spread over the calls for files", by["call"]), ("of them spread over the time", by["time"]),
        ("of them of a program that nothing watched", by["unwatched"]),
        ("ended before their kill, and whole", len(victims) - len(died)),
        ("power cuts", cuts.count), ("power cuts survived", cuts.count - cuts.lost),
        ("of them at the syncs", cuts.at_syncs)])
    return len(died), within


def kill_all(options, folder, on_disk):
    stages = fault_layer.Stages(folder)
    place = fault_layer.Place(pathlib.Path(folder) / "clean")
    amount, dice = LONG if options.long else SHORT, random.Random(options.seed)
    measured, kills = {}, []
    for flow, part in shared_out(amount, stages.flows):
        measured[flow.name] = measure(place, flow)
        kills += kills_of(flow, measured[flow.name], part, dice)
    dice.shuffle(kills)
    return run_all(folder, on_disk, kills, measured)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--long", action="store_true")
    parser.add_argument("--seed", type=int, default=20261129)
    parser.add_argument("--figures")
    options = parser.parse_args()
    fault_layer.must_be_built()
    with fault_layer.temporary() as folder, tempfile.TemporaryDirectory(prefix="loadlight-crash-") as on_disk:
        victims = kill_all(options, folder, on_disk)
        cuts = crash_power.cut_all(pathlib.Path(folder), (LONG if options.long else SHORT).power, options.seed)
    complaints = [complaint for victim in victims for complaint in victim.complaints] + cuts.complaints
    print("\n".join(complaints))
    died, within = tell(options.figures, victims, cuts)
    enough = not options.long or (died >= 1000 and within >= 200)
    sys.exit(0 if not complaints and enough and cuts.count else 1)


if __name__ == "__main__":
    main()
