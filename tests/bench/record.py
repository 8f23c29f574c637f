"""What people ask of records that grow from decade to decade, beside the bare statement on the same engine.

    python3 tests/bench/record.py --build DIR [--packages N] [--engines sqlite,postgres] [--place FOLDER] [--out FILE.md]

Fills both engines over two hundred offices up to N packages (default ten million), measures at every power of ten from
ten thousand on, and prints a table. With --place what was filled and measured stays there, and the next call goes on
with it. PostgreSQL is a server of the bench's own, with its durability on. Judges nothing.
"""
import argparse
import contextlib
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "outside"))
import postgres

SETTINGS = {"fsync": "on", "shared_buffers": "512MB", "autovacuum": "on", "max_wal_size": "4GB"}


HEAD = """Microseconds, ours / bare, medians over fifty of two hundred offices, at so many packages in all of them. Both look at
records that were looked at a moment before; a first look, at packages that nobody had asked for, adds what fetching
costs once the record outgrows the engine's memory. On PostgreSQL each statement of ours is a round trip to the server."""


@contextlib.contextmanager
def engine_place(name, folder):
    if name == "sqlite":
        yield str(folder / "sqlite"), lambda: None
        return
    place = folder / "postgres"
    there = (place / "data").exists()
    place.mkdir(exist_ok=True)
    folder.chmod(0o755)
    server = postgres.Server(place, **SETTINGS)
    server.run() if there else server.start()
    try:
        yield server.address(), lambda: subprocess.run(["psql", "-q", server.address(), "-c", "VACUUM ANALYZE"], check=True)
    finally:
        server.halt()


def measured(program, place, packages):
    made = subprocess.run([program, "measure", place, str(packages)], check=True, stdout=subprocess.PIPE, text=True)
    return [line.split("\t") for line in made.stdout.splitlines()]


def decades(packages):
    step = 10_000
    while step <= packages:
        yield step
        step *= 10


def figures_in(folder):
    """What calls before this one measured: (engine, packages) to lines of `measured`. A larger record cannot tell again."""
    kept = folder / "figures.jsonl"
    lines = kept.read_text(encoding="utf-8").splitlines() if kept.exists() else []
    return {(name, step): figures for name, step, figures in map(json.loads, lines)}


def run(program, name, folder, packages, rows):
    before = figures_in(folder)
    with engine_place(name, folder) as (place, settle):
        for step in decades(packages):
            began = time.monotonic()
            figures = before.get((name, step))
            if not figures:
                subprocess.run([program, "fill", place, str(step)], check=True)
                settle()
                print(f"{name}: {step:,} packages after {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
                figures = measured(program, place, step)
                with open(folder / "figures.jsonl", "a", encoding="utf-8") as kept:
                    kept.write(json.dumps([name, step, figures]) + "\n")
            for question, statement, ours, bare in figures:
                rows.setdefault((name, question, statement), []).append((float(ours), float(bare)))


def table(rows, packages):
    steps = list(decades(packages))
    head = ["engine", "asked", "bare statement"] + [f"{step:,}" for step in steps] + ["worst step", "over the bare, at the end"]
    yield "| " + " | ".join(head) + " |"
    yield "|" + " --- |" * len(head)
    for (name, question, statement), figures in rows.items():
        worst = max((b[0] / a[0] for a, b in zip(figures, figures[1:])), default=1)
        cells = [f"{ours:,.0f} / {bare:,.0f}" for ours, bare in figures]
        over = f"{figures[-1][0] - figures[-1][1]:,.0f} µs"
        yield "| " + " | ".join([name, question, statement, *cells, f"{worst:.2f}", over]) + " |"


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, required=True)
    arguments.add_argument("--packages", type=int, default=10_000_000)
    arguments.add_argument("--engines", default="sqlite,postgres")
    arguments.add_argument("--place", type=pathlib.Path)
    arguments.add_argument("--out", type=pathlib.Path)
    options = arguments.parse_args()
    folder = options.place or pathlib.Path(tempfile.mkdtemp(prefix="ll-bench-"))
    folder.mkdir(parents=True, exist_ok=True)
    rows = {}
    try:
        for name in options.engines.split(","):
            run(options.build / "bin/record_bench", name, folder, options.packages, rows)
    finally:
        if not options.place:
            shutil.rmtree(folder, ignore_errors=True)
    text = "\n".join([HEAD, "", *table(rows, options.packages)])
    print(text)
    if options.out:
        options.out.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
