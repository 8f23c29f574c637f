"""Throws inputs at every parser that takes what comes from outside, led by what they cover.

    python3 tests/reliability/fuzz.py --build build [--long] [--seconds N] [--only NAME] [--seed N] [--figures FILE]

Configures and builds the harnesses of tests/reliability/fuzz with clang in build/fuzz, and runs each of them, two at a
time: its seeds and what was found before, then new inputs for 3 seconds (--long: 60, from what earlier long runs
grew in build/fuzz/grown). Prints a row a harness; fails when one ends in a crash, a broken promise, a leak, an input
of over 5 seconds or more memory than it may take. The input then lies in build/fuzz/found: once the fault is mended it
belongs into tests/reliability/fuzz/found/<harness>, where every run tries it.
"""
import argparse
import concurrent.futures
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import time

import figures

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
FUZZ = ROOT / "tests/reliability/fuzz"
SHORT_SECONDS, LONG_SECONDS = 3, 60
INPUT_SECONDS = 5   # more is a fault
MOST_MEGABYTES = 800
AT_ONCE = 2


def names():
    return sorted(path.name.removesuffix("_fuzz.cpp") for path in FUZZ.glob("*_fuzz.cpp"))


def build(folder, wanted):
    if not shutil.which("clang++"):
        sys.exit("clang++ is missing: install the packages of tests/debian-packages.txt.")
    launcher = ["-DCMAKE_CXX_COMPILER_LAUNCHER=ccache"] if shutil.which("ccache") else []
    begun = time.monotonic()
    for command in (["cmake", "-S", ROOT, "-B", folder, "-G", "Ninja", "-DLOADLIGHT_FUZZ=ON",
                     "-DCMAKE_CXX_COMPILER=clang++", *launcher],
                    ["cmake", "--build", folder, "-j", str(os.cpu_count()), "--target",
                     *(f"{name}_fuzz" for name in wanted)]):
        done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
        if done.returncode != 0:
            print(done.stdout[-6000:])
            sys.exit("The harnesses could not be built.")
    print(f"built in {time.monotonic() - begun:.0f} s", flush=True)


def command_of(folder, name, options, grown):
    seconds = options.seconds or (LONG_SECONDS if options.long else SHORT_SECONDS)
    command = [folder / "harnesses" / f"{name}_fuzz", grown]
    command += [part / name for part in (FUZZ / "seeds", FUZZ / "found") if (part / name).is_dir()]
    words = FUZZ / "dictionaries" / f"{name}.dict"
    command += [f"-dict={words}"] if words.is_file() else []
    return command + [f"-max_total_time={seconds}", f"-timeout={INPUT_SECONDS}", f"-rss_limit_mb={MOST_MEGABYTES}",
                      f"-artifact_prefix={folder}/found/{name}-", "-print_final_stats=1", f"-seed={options.seed}"]


def number(pattern, text):
    found = re.findall(pattern, text)
    return int(found[-1]) if found else 0


def run(folder, name, options):
    """A row: name, inputs, edges, megabytes, whether all was well; and what the harness said."""
    environment = os.environ | {"TZ": "UTC", "LC_ALL": "C.UTF-8",
                                "LSAN_OPTIONS": f"suppressions={ROOT}/tests/leaks.supp:print_suppressions=0",
                                "ASAN_OPTIONS": "quarantine_size_mb=32", "UBSAN_OPTIONS": "print_stacktrace=1"}
    in_memory = "/dev/shm" if os.path.isdir("/dev/shm") else None  # some harnesses write a small file an input
    with tempfile.TemporaryDirectory(dir=in_memory) as fresh:
        grown = folder / "grown" / name if options.long else pathlib.Path(fresh)
        grown.mkdir(parents=True, exist_ok=True)
        environment["TMPDIR"] = fresh
        done = subprocess.run(["nice", "-n", "5", *command_of(folder, name, options, grown)], env=environment, cwd=fresh,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    told = done.stdout.decode("utf-8", "replace")
    row = (name, number(r"number_of_executed_units: (\d+)", told), number(r" cov: (\d+)", told),
           number(r"peak_rss_mb: +(\d+)", told), done.returncode == 0)
    return row, told


def run_all(folder, wanted, options):
    rows = []
    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as crew:
        for row, told in crew.map(lambda name: run(folder, name, options), wanted):
            name, inputs, edges, megabytes, well = row
            print(f"{name:16} {inputs:9} inputs {edges:6} edges {megabytes:5} MB  {'well' if well else 'FOUND'}", flush=True)
            if not well:
                print(told[-5000:], flush=True)
            rows.append(row)
    return rows


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, required=True)
    arguments.add_argument("--long", action="store_true")
    arguments.add_argument("--seconds", type=int)
    arguments.add_argument("--only")
    arguments.add_argument("--seed", type=int, default=int.from_bytes(os.urandom(3), "big") + 1)
    arguments.add_argument("--figures")
    options = arguments.parse_args()
    wanted = [name for name in names() if not options.only or options.only == name]
    folder = options.build.resolve() / "fuzz"
    build(folder, wanted)
    (folder / "found").mkdir(exist_ok=True)
    print(f"seed {options.seed}", flush=True)
    rows = run_all(folder, wanted, options)
    faults = [row[0] for row in rows if not row[4]]
    figures.tell(options.figures, "fuzzing", [
        ("parsers fuzzed", len(rows)), ("inputs fuzzed", sum(row[1] for row in rows)),
        ("edges of code covered, summed over the parsers", sum(row[2] for row in rows)), ("faults found", len(faults))])
    unfed = [row[0] for row in rows if row[4] and (row[1] == 0 or row[2] == 0)]
    if unfed:
        sys.exit(f"Nothing was tried or covered: {', '.join(unfed)}")
    sys.exit(f"Found faults: {', '.join(faults)}; the inputs lie in {folder}/found" if faults else 0)


if __name__ == "__main__":
    main()
