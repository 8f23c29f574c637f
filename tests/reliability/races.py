"""Looks for races between threads with the thread sanitizer.

    python3 tests/reliability/races.py --build build [--long] [--figures FILE]

Builds in BUILD/races what is needed. The short form runs the tests that use several threads; the long one also
a whole station under fifty clients, swept shelves and clients that misbehave. Fails on any report.
"""
import argparse
import os
import pathlib
import subprocess
import sys

import figures

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
# Test programs, and which of their cases.
PROGRAMS = {"web_tests": [], "store_tests": ["Threads that write*,Two stores on one record*"]}
STATION_TESTS = ["station_disturbed_test.py", "station_shelf_test.py", "station_attacks_test.py"]


def built(folder, targets):
    launcher = ["-DCMAKE_CXX_COMPILER_LAUNCHER=ccache"] if any(
        os.access(pathlib.Path(place) / "ccache", os.X_OK) for place in os.environ["PATH"].split(":")) else []
    quiet = {"check": True, "stdout": subprocess.DEVNULL}
    subprocess.run(["cmake", "-S", ROOT, "-B", folder, "-G", "Ninja", "-DLOADLIGHT_SANITIZE=thread", *launcher], **quiet)
    subprocess.run(["cmake", "--build", folder, "-t", *targets], **quiet)


def run(command, environment):
    """Whether it passed; what it says is shown."""
    print("running", " ".join(map(str, command)), flush=True)
    return subprocess.run(command, env=os.environ | environment, check=False, timeout=3600).returncode == 0


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, required=True)
    arguments.add_argument("--long", action="store_true")
    arguments.add_argument("--seed", type=int)
    arguments.add_argument("--figures")
    options = arguments.parse_args()
    folder = options.build.resolve() / "races"
    built(folder, [*PROGRAMS, *(["loadlight", "shelf_film"] if options.long else [])])
    reports = folder / "reports"
    reports.mkdir(exist_ok=True)
    for old in reports.iterdir():
        old.unlink()
    told = {"TSAN_OPTIONS": f"log_path={reports}/race suppressions={HERE}/races.supp exitcode=0",
            "LOADLIGHT": str(folder / "bin" / "loadlight"), "SHELF_FILM": str(folder / "bin" / "shelf_film")}
    commands = [[folder / "tests" / program.split("_")[0] / program, *cases] for program, cases in PROGRAMS.items()]
    if options.long:
        commands += [[sys.executable, "-B", ROOT / "tests" / "outside" / test] for test in STATION_TESTS]
        commands.append([sys.executable, "-B", HERE / "load.py", "--minutes", "2"])
    failed = [command for command in commands if not run(command, told)]
    found = sorted(reports.iterdir())
    for report in found[:5]:
        print(report.read_text(encoding="utf-8", errors="replace")[:6000])
    figures.tell(options.figures, "races", [("programs run under the thread sanitizer", len(commands)),
                                            ("races found", len(found))])
    return 1 if failed or found else 0


if __name__ == "__main__":
    sys.exit(main())
