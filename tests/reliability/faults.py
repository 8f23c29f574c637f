"""Every write, sync, rename and open of a command failing in turn, a disk that fills and one that dies.

What was answered with exit 0 is in the record, whole; what was not is not, or whole; the record verifies, no
check says Clear that is not recorded, and the same command then works, with no repair.

    python3 faults.py [--long] [--seed N] [--figures FILE] [--only FLOW]
"""

import argparse
import collections
import concurrent.futures
import errno
import pathlib
import random
import sys

import fault_journal
import fault_layer
import figures
import office

# "read" is a read that fails; where reads count too, calls have other numbers.
KINDS = (("fail", errno.EIO), ("fail", errno.ENOSPC), ("short", 0), ("dead", errno.EIO), ("full", errno.ENOSPC),
         ("read", errno.EIO))
RUNS_IN_SHORT = 160  # about a quarter of a second each
AT_ONCE = 2
OF_AN_OFFICE = {"record.db", "record.db-wal", "record.db-shm", "keys.json", "checkpoints.jsonl"}
STATUSES = (0, 1, 2, 10, 20)
ANY_TIME = ("check", "check stream", "audit")  # commands that may be given again

Fault = collections.namedtuple("Fault", "flow what at how")


def kinds_of(events):
    """Without their subjects: what is done again has a name of its own."""
    return [kind for kind, _ in events]


def clean_run(place, flow, reads=False):
    """The events that the command leaves, how many calls it makes, and what they are by number."""
    place.reset(flow.stage)
    before = len(place.events())
    journal = place.trace.parent / "journal"
    journal.unlink(missing_ok=True)
    done = place.run(flow, journal=journal, reads=reads)
    if done.status != flow.leaves:
        sys.exit(f"{flow.name}: exit {done.status} without a fault: {done.err}")
    calls = {each.call: each.kind for each in fault_journal.entries(journal.read_bytes())}
    return place.events()[before:], done.trace.calls, calls


class Judge:
    """One fault: the command run with it, and everything that must hold afterwards."""

    def __init__(self, place, fault, expected):
        self.place, self.fault, self.flow, self.expected = place, fault, fault.flow, expected
        self.complaints, self.in_doubt = [], False

    def complain(self, what, *values):
        self.complaints.append(f"{self.flow.name}: {self.fault.what} at {self.fault.at} ({self.fault.how}): {what} "
                               + " ".join(map(repr, values)))

    def judge(self):
        self.place.reset(self.flow.stage)
        before = len(self.place.events())
        reads = self.fault.what == "read"
        self.done = self.place.run(
            self.flow, f"{'fail' if reads else self.fault.what} {self.fault.at} {self.fault.how}", reads=reads)
        self.check_answer()
        if self.flow.name != "init" and (verified := self.place.verified()) != (0, []):
            self.complain("the record does not verify", verified, self.done.status, self.done.err)
        self.new = self.place.events()[before:]
        self.check_change()
        self.check_files()
        self.check_next_run(before)
        return self

    def check_answer(self):
        done = self.done
        if done.status not in STATUSES or "terminate" in done.err or "what()" in done.err:
            self.complain("exit", done.status, done.err)
        if done.status == 1 and not any(line.get("error") and line.get("action") for line in done.lines):
            if not done.lines or "summary" not in done.lines[-1]:
                self.complain("failed without a failure's line", done.lines)

    def is_kept(self):
        """An audit's last event says that it ended; what it could not judge at first it sees once more."""
        if self.flow.name == "audit":
            return self.new[-1:] == self.expected[-1:]
        return self.new == self.expected

    def check_stream(self):
        """Each answer is of its own: as many events as Clear answers at least."""
        answers = [line.get("outcome") for line in self.done.lines]
        if len(answers) != fault_layer.SCANS or set(answers) - {"clear", "hold"}:
            self.complain("a stream answered", self.done.status, answers)
        if self.done.status != (10 if "hold" in answers else 0):
            self.complain("a stream's exit", self.done.status, answers)
        if answers.count("clear") > len(self.new) or self.new != self.expected[:len(self.new)]:
            self.complain("an unrecorded check answered", answers, self.new)

    def check_change(self):
        """On a disk that is dead a change may be whole that was told as failed: nobody can tell, or take it back.
        Such changes are counted."""
        if self.flow.input:
            return self.check_stream()
        kept, acknowledged = self.is_kept(), self.done.status == self.flow.leaves
        if acknowledged and not kept:
            self.complain("acknowledged and not there", self.new, self.expected, self.done.lines)
        if self.new and not kept and self.flow.name != "audit":
            self.complain("half there", self.new)
        self.in_doubt = kept and not acknowledged and self.flow.name not in ANY_TIME
        if self.in_doubt and self.fault.what != "dead":
            self.complain("told as failed and there", self.done.status, self.done.lines)
        return self.check_verdict(kept) if self.flow.name == "check" else None

    def check_verdict(self, kept):
        answers = [(line["outcome"], self.done.status) for line in self.done.lines]
        if answers not in ([("clear", 0)], [("hold", 10)]):
            self.complain("a check answered", answers)
        if not kept and answers != [("hold", 10)]:
            self.complain("an unrecorded check answered", answers)

    def check_files(self):
        name = self.flow.pdf
        if name and not self.place.pdf_is_whole_or_absent(name):
            self.complain("half a PDF")
        there = bool(name) and (self.place.out / name).exists()
        if name and self.new == self.expected and self.done.status == 0 and not there:
            self.complain("in the record and not printed")
        if there and not self.new and self.fault.what != "dead":  # then nothing can be taken away either
            self.complain("printed and not in the record", self.done.lines)
        left = {path.name for path in self.place.out.iterdir()} - {name}
        if self.place.office.exists():
            left |= {path.name for path in self.place.office.iterdir()} - OF_AN_OFFICE
        if left and self.fault.what in ("short", "full"):
            self.complain("left behind", left)

    def check_next_run(self, before):
        again = self.flow if self.new != self.expected or self.flow.name in ANY_TIME else None
        if again:
            done = self.place.run_unwatched(again)
            left = self.place.events()[before + len(self.new):]
            if done.status != again.leaves or kinds_of(left) != kinds_of(self.expected):
                self.complain("the next run", done.status, done.lines, done.err)
        if self.place.verified() != (0, []):
            self.complain("the record does not verify after the next run")


def faults_of(place, flow, count, calls):
    of_kind = {"short": [at for at, kind in calls.items() if kind == fault_journal.WRITE],
               "read": [at for at, kind in clean_run(place, flow, reads=True)[2].items() if kind == fault_journal.READ]}
    for what, how in KINDS:
        for at in of_kind.get(what, range(1, count + 1)):
            yield Fault(flow, what, at, how)


def spread(every, wanted, seed):
    """`wanted` of them, evenly, from a start that the seed tells."""
    step = max(1, len(every) // wanted)
    return every[random.Random(seed).randrange(step)::step]


def run_all(folder, faults, expected):
    places = [fault_layer.Place(pathlib.Path(folder) / f"place-{number}") for number in range(AT_ONCE)]
    for place in places:
        place.folder.mkdir(parents=True)

    def work(number):
        return [Judge(places[number], fault, expected[fault.flow.name]).judge() for fault in faults[number::AT_ONCE]]

    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as crowd:
        return [judge for judges in crowd.map(work, range(AT_ONCE)) for judge in judges]


def tell(path, judges, calls):
    injected = [judge for judge in judges if judge.done.trace.failed]
    by_kind = collections.Counter((judge.fault.what, judge.fault.how) for judge in injected)
    told = [("commands", len({judge.flow.name for judge in judges})), ("calls that can fail", calls),
            ("faults injected", len(injected))]
    named = {("fail", errno.EIO): "one call: device error", ("fail", errno.ENOSPC): "one call: no room",
             ("short", 0): "one write cut short", ("dead", errno.EIO): "all calls from one on: device error",
             ("full", errno.ENOSPC): "all calls from one on that need room: no room",
             ("read", errno.EIO): "one read: device error"}
    told += [(f"faults injected, {named[kind]}", count) for kind, count in sorted(by_kind.items())]
    told.append(("told as failed, and whole in the record", sum(judge.in_doubt for judge in judges)))
    told.append(("faults not borne", len([judge for judge in judges if judge.complaints])))
    figures.tell(path, "I/O faults", told)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--long", action="store_true")
    parser.add_argument("--seed", type=int, default=20261129)
    parser.add_argument("--figures")
    parser.add_argument("--only")
    options = parser.parse_args()
    fault_layer.must_be_built()
    with fault_layer.temporary() as folder:
        flows = [flow for flow in fault_layer.Stages(folder).flows if options.only in (None, flow.name)]
        place = fault_layer.Place(pathlib.Path(folder) / "clean")
        expected, faults, calls = {}, [], 0
        for flow in flows:
            expected[flow.name], count, kinds = clean_run(place, flow)
            faults += faults_of(place, flow, count, kinds)
            calls += len([fault for fault in faults if fault.flow == flow and fault.what == "read"]) + count
        chosen = faults if options.long else spread(faults, RUNS_IN_SHORT, options.seed)
        judges = run_all(folder, chosen, expected)
    complaints = [complaint for judge in judges for complaint in judge.complaints]
    print("\n".join(complaints))
    tell(options.figures, judges, calls)
    sys.exit(1 if complaints or not judges else 0)


if __name__ == "__main__":
    main()
