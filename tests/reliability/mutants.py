"""Changes the rules that a Clear stands on, one small thing at a time, and looks for a test that then fails.

    python3 tests/reliability/mutants.py --build build [--long] [--seed N] [--only NAME] [--figures FILE]

`build` is a finished build of everything. The short form draws some mutants by a seed, the long one makes them all. A mutant that nobody killed must stand in equivalent_mutants.txt with the reason why it changes nothing;
fails on any other, and when those are more than 3 in 100 of all.
"""
import argparse
import pathlib
import random
import sys
import tempfile

import figures
import mutations
from mutant import ROOT, Mutant

SHORT = 24
SEED = 20261129  # of the short form: a test says the same each time
MOST_UNKILLED = 0.03
PROGRAMS = ["core_tests", "app_tests"]
# File, and which of its tests are asked first.
SOURCES = {
    "src/core/package_rules.cpp": "*package*",
    "src/core/release_rules.cpp": "*release*,*load*",
    "src/core/suspect_range.cpp": "*suspect*",
    "src/core/payload.cpp": "*payload*,*label*,*text*",
    "src/core/verdict.cpp": "*verdict*",
}


def told_equivalent():
    """(source, change as `name` shows it) to the reason, from equivalent_mutants.txt."""
    told = {}
    for line in (pathlib.Path(__file__).parent / "equivalent_mutants.txt").read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            change, why = line.split(" | because ", 1)
            told[change] = why
    return told


def name(source, text, mutation):
    """One line, the same as long as the line it changes stays the same."""
    _, line = mutations.line_of(text, mutation)
    old = " ".join(text[mutation.start:mutation.end].split())
    new = " ".join(mutation.new.split())
    column = mutation.start - text.rfind("\n", 0, mutation.start)
    return f"{source} | {line} | column {column} | {mutation.rule}: {old[:60]} -> {new[:64]}".rstrip()


def all_mutants(only):
    for source, first in SOURCES.items():
        if only in source:
            text = (ROOT / source).read_text(encoding="utf-8")
            for mutation in mutations.mutations_of(text):
                yield source, first, text, mutation


def outcome_of(mutant, source, first, text, mutation):
    changed = mutations.applied(text, mutation)
    for program in PROGRAMS:
        outcome = mutant.survives(source, changed, [program], first if program == PROGRAMS[0] else None)
        if outcome is not True:
            return "no program" if outcome else "killed"
    return "alive"


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, required=True)
    arguments.add_argument("--long", action="store_true")
    arguments.add_argument("--seed", type=int, default=SEED)
    arguments.add_argument("--only", default="")
    arguments.add_argument("--figures")
    options = arguments.parse_args()
    mutants = list(all_mutants(options.only))
    if not options.long:
        print(f"seed {options.seed}", flush=True)
        mutants = random.Random(options.seed).sample(mutants, min(SHORT, len(mutants)))
    counts = {"killed": 0, "alive": 0, "explained": 0, "no program": 0}
    equivalent = told_equivalent()
    with tempfile.TemporaryDirectory() as scratch:
        mutant = Mutant(options.build.resolve(), pathlib.Path(scratch))
        for source, first, text, mutation in mutants:
            outcome = outcome_of(mutant, source, first, text, mutation)
            called = name(source, text, mutation)
            if outcome == "alive" and called in equivalent:
                outcome = "explained"
            counts[outcome] += 1
            if outcome == "alive" or options.long:
                print(f"{outcome.upper() if outcome == 'alive' else outcome:<11} {called}", flush=True)
    made = sum(counts.values()) - counts["no program"]
    figures.tell(options.figures, "mutants", [
        ("mutants made", made), ("mutants killed", counts["killed"]),
        ("mutants that change nothing, each explained", counts["explained"]), ("mutants alive", counts["alive"])])
    too_many = counts["explained"] > MOST_UNKILLED * made and options.long
    return 1 if counts["alive"] or not counts["killed"] or too_many else 0


if __name__ == "__main__":
    sys.exit(main())
