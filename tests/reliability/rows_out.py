"""Takes each row of the rules' tables out in turn, and looks for a test that then fails.

    python3 tests/reliability/rows_out.py --build build [--only NAME]

`build` is a finished build of everything. The project's sources are not touched: each mutant is one file
compiled anew and the module's tests linked with it. Prints a line a row, and at the end how many rows
nobody missed; exits 1 if there is one.
"""
import argparse
import pathlib
import re
import sys
import tempfile

from mutant import ROOT, Mutant

# File, the beginning of its table, which test programs know of it, and which tests are asked first: those most
# likely to miss a row; where they do not, all are run.
TABLES = [
    ("src/core/release_rules.cpp", "constexpr ReleaseRule kRules[] = {", ["core_tests"], "*release*"),
    ("src/core/release_rules.cpp", "constexpr NoteRule kNotes[] = {", ["core_tests", "app_tests"], "*noted*,*note*,*pending*"),
    ("src/core/package_rules.cpp", "constexpr PackageRule kRules[] = {", ["core_tests"], "*package*"),
    ("src/core/cycle_criteria.cpp", "constexpr Criterion kCriteria[] = {", ["core_tests"], "*cycle*,*criteri*"),
    ("src/core/readings_criteria.cpp", "constexpr Criterion kCriteria[] = {", ["core_tests"], "*release*"),
    ("src/core/incident_steps.cpp", "constexpr IncidentStepRow kSteps[] = {", ["core_tests"], "*step*"),
    ("src/core/incident_steps.cpp", "constexpr StepFinding kFindings[] = {", ["core_tests"], "*finding*"),
    ("src/core/incident_steps.cpp", "constexpr RetestRule kRetests[] = {", ["core_tests"], "*retest*"),
    ("src/core/incident_steps.cpp", "constexpr ProcedureRule kProcedures[] = {", ["core_tests"], "*procedure*"),
    ("src/core/indicator_types.cpp", "constexpr IndicatorType kTypes[] = {", ["core_tests"], "*indicator*,*type*"),
    ("src/core/profiles.cpp", "constexpr ProfileValue kValues[] = {", ["core_tests"], "*profile*"),
    ("src/core/programs.cpp", "static const std::vector<Program> rows{", ["core_tests"], "*program*"),
    ("src/core/transitions.cpp", "kPackageTransitions[] = {", ["core_tests"], "*move*,*state*"),
    ("src/core/transitions.cpp", "kLoadTransitions[] = {", ["core_tests"], "*move*,*state*"),
]


def rows_of(text, beginning):
    """The spans of a table's rows: each from its opening brace to the comma after its closing one."""
    at = text.index(beginning) + len(beginning)
    depth, start, spans, quoted = 0, None, [], False
    while True:
        letter = text[at]
        if letter == '"' and text[at - 1] != "\\":
            quoted = not quoted
        if not quoted:
            if text.startswith("//", at):
                at = text.index("\n", at)
                continue
            if letter == "{":
                if depth == 0:
                    start = at
                depth += 1
            if letter == "}":
                if depth == 0:
                    return spans
                depth -= 1
                if depth == 0:
                    end = at + 1
                    spans.append((start, end + (text[end] == ",")))
        at += 1


def name_of(row):
    return re.sub(r"\s+", " ", row)[:76]


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, required=True)
    arguments.add_argument("--only", default="")
    options = arguments.parse_args()
    survivors = tried = 0
    with tempfile.TemporaryDirectory() as scratch:
        mutant = Mutant(options.build.resolve(), pathlib.Path(scratch))
        for source, beginning, programs, first in TABLES:
            if options.only not in source + beginning:
                continue
            text = (ROOT / source).read_text()
            for start, end in rows_of(text, beginning):
                tried += 1
                outcome = mutant.survives(source, text[:start] + text[end:], programs, first)
                missed = outcome is not True
                survivors += not missed
                verdict = outcome if isinstance(outcome, str) else "missed by a test" if missed else "NOBODY MISSED IT"
                print(f"{verdict:<18} {source}: {name_of(text[start:end])}", flush=True)
    print(f"{tried} rows taken out, {survivors} that nobody missed")
    return 1 if survivors or not tried else 0


if __name__ == "__main__":
    sys.exit(main())
