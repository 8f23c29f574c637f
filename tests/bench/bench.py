"""Whole-process benchmarks beside their peers, run in turn so that both meet the same machine.

    python3 tests/bench/bench.py [--build DIR] [--runs N] [--large N] [--recall N]

Prints medians and ratios; judges nothing. Every figure is a wall time in milliseconds, start included.
"""
import argparse
import pathlib
import shutil
import statistics
import subprocess
import tempfile
import time

PEER_SCHEMA = """
create table package(id text primary key, payload text not null) without rowid;
create table event(sequence integer primary key, at integer not null, body text not null);
"""
ZINT_TEXT = "LL1.S8Q4T0ZK3MW.1TS1-204.16D20261125.14D20270524.HMB.PEXAM.BP.Z0123456789ABC"


def timed(command, **options):
    began = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, **options)
    return (time.perf_counter() - began) * 1000


def in_turn(runs, *works):
    """The median of each work, run A B A B … after one uncounted round."""
    times = [[] for _ in works]
    for run in range(runs + 1):
        for work, kept in zip(works, times):
            took = work()
            if run:
                kept.append(took)
    return [statistics.median(kept) for kept in times]


def row(name, ours, peer_name, peer):
    print(f"{name:<34} {ours:8.1f} ms   {peer_name:<42} {peer:8.1f} ms   ratio {ours / peer:5.2f}")


class Office:
    def __init__(self, build, folder, packages, *story):
        self.folder, self.packages = folder, packages
        made = subprocess.run([build / "bin/fill_office", folder, str(packages), *story], check=True,
                              capture_output=True, text=True)
        self.package, self.payload = made.stdout.split()


def peer_database(path, office):
    """The same number of packages in a bare table, same durability."""
    rows = "".join(f"insert into package values('P{n:07}','{office.payload}');" for n in range(office.packages))
    script = f"pragma journal_mode=wal;begin;{PEER_SCHEMA}{rows}commit;"
    subprocess.run(["sqlite3", path], input=script, text=True, check=True, stdout=subprocess.DEVNULL)


def bench_sheet(build, office, runs, scratch):
    program, number = build / "bin/loadlight", [0]
    highest = (office.packages + 11) // 12

    def ours():
        number[0] += 1
        return timed([program, "--office", office.folder, "--operator", "MB", "label", "--contents", "EXAM",
                      "--count", "24", "--load", f"S1-{highest + 1}", "--kind", "P", "--template", "a4-24",
                      "--packed", "--out", scratch / "sheet.pdf"])

    def zint():
        return sum(timed(["zint", "--barcode=58", "--secure=3", "-o", scratch / "one.png", "-d", ZINT_TEXT])
                   for _ in range(24))

    row(f"label, a sheet of 24 ({office.packages})", *alternate(runs, ours, "zint, 24 runs", zint))


def bench_check(build, office, runs, scratch):
    program, database = build / "bin/loadlight", scratch / f"peer-{office.packages}.db"
    peer_database(database, office)
    statement = (f"pragma synchronous=full;select payload from package where id='P{office.packages // 2:07}';"
                 f"insert into event(at,body) values(1,'{office.payload}');")

    def ours():
        return timed([program, "--office", office.folder, "check", "--text", office.payload, "--json"])

    def sqlite():
        return timed(["sqlite3", database, statement])

    ours_median, name, peer = alternate(runs, ours, "sqlite3, one look-up, one synced insert", sqlite)
    row(f"check --text ({office.packages})", ours_median, name, peer)


def alternate(runs, ours, peer_name, peer):
    ours_median, peer_median = in_turn(runs, ours, peer)
    return ours_median, peer_name, peer_median


def bench_growth(build, small, large, runs):
    """One command on both offices in turn: what a hundred times the packages costs."""
    program = build / "bin/loadlight"

    def check(office):
        return lambda: timed([program, "--office", office.folder, "check", "--text", office.payload, "--json"])

    first, second = in_turn(runs, check(large), check(small))
    row(f"check, {large.packages} against {small.packages}", first, f"the same on {small.packages}", second)


def bench_sheet_growth(build, small, large, runs, scratch):
    program = build / "bin/loadlight"

    def sheet(office):
        highest = (office.packages + 11) // 12
        return lambda: timed([program, "--office", office.folder, "--operator", "MB", "label", "--contents",
                              "EXAM", "--count", "24", "--load", f"S1-{highest + 1}", "--kind", "P",
                              "--template", "a4-24", "--packed", "--out", scratch / "sheet.pdf"])

    first, second = in_turn(runs, sheet(large), sheet(small))
    row(f"label, {large.packages} against {small.packages}", first, f"the same on {small.packages}", second)


RECALL_QUERY = """
select p.id, p.load_sterilizer, p.load_number, p.state, p.location, p.visit
from incidents i join loads l on l.sterilizer = i.sterilizer and l.run between i.first_run and i.last_run
join packages p on p.load_sterilizer = l.sterilizer and p.load_number = l.number
where i.number = 1 order by l.run, p.print_run, p.cell;
"""


def bench_recall(build, office, half, runs):
    """Every suspect package of a positive spore test, beside the bare query over the same file; and the same
    in half the history."""
    program = build / "bin/loadlight"

    def ours(which):
        return lambda: timed([program, "--office", which.folder, "recall", "--incident", "1", "--json"])

    def sqlite():
        return timed(["sqlite3", "-readonly", office.folder / "record.db", RECALL_QUERY])

    row(f"recall ({office.packages})", *alternate(runs, ours(office), "sqlite3, the bare query", sqlite))
    first, second = in_turn(runs, ours(office), ours(half))
    row(f"recall, {office.packages} against {half.packages}", first, f"the same in {half.packages}", second)


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, default=pathlib.Path("build"))
    arguments.add_argument("--runs", type=int, default=30)
    arguments.add_argument("--large", type=int, default=100_000)
    arguments.add_argument("--recall", type=int, default=1_000_000, help="packages of the recall's office; 0: none")
    options = arguments.parse_args()
    for tool in ("zint", "sqlite3"):
        if not shutil.which(tool):
            raise SystemExit(f"{tool} is missing: bash tests/install-packages.sh test")
    with tempfile.TemporaryDirectory() as scratch_name:
        scratch = pathlib.Path(scratch_name)
        small = Office(options.build, scratch / "small", 1000)
        large = Office(options.build, scratch / "large", options.large)
        print(f"medians of {options.runs}, whole processes, in turn")
        for office in (small, large):
            bench_sheet(options.build, office, options.runs, scratch)
            bench_check(options.build, office, options.runs, scratch)
        bench_growth(options.build, small, large, options.runs)
        bench_sheet_growth(options.build, small, large, options.runs, scratch)
        if options.recall:
            half = Office(options.build, scratch / "half", options.recall // 2, "recall")
            whole = Office(options.build, scratch / "whole", options.recall, "recall")
            bench_recall(options.build, whole, half, options.runs)


if __name__ == "__main__":
    main()
