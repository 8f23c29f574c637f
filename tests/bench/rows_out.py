"""Takes each row of the rules' tables out in turn, and looks for a test that then fails.

    python3 tests/bench/rows_out.py --build build [--only NAME]

`build` is a finished build of everything. The project's sources are not touched: each mutant is one file
compiled anew and the module's tests linked with it. Prints a line a row, and at the end how many rows
nobody missed; exits 1 if there is one.
"""
import argparse
import json
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
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


def compile_command(build, source):
    for entry in json.loads((build / "compile_commands.json").read_text()):
        if pathlib.Path(entry["file"]) == ROOT / source:
            words = shlex.split(entry["command"])
            return [word for word in words if word != "ccache"], entry["directory"]
    raise SystemExit(f"{source} is not in {build}/compile_commands.json")


def link_command(build, program):
    lines = subprocess.run(["ninja", "-C", build, "-t", "commands", program], check=True,
                           capture_output=True, text=True).stdout.splitlines()
    line = [one for one in lines if re.search(rf"-o \S*/{program}( |$)", one)][-1]
    return line.split(" && ")[1] if line.startswith(": && ") else line


class Mutant:
    def __init__(self, build, scratch):
        self.build, self.scratch = build, scratch
        self.links = {}

    def survives(self, source, text, programs, first):
        changed = self.scratch / pathlib.Path(source).name
        changed.write_text(text)
        command, folder = compile_command(self.build, source)
        output = self.scratch / "mutant.o"
        command = [str(changed) if word == str(ROOT / source) else word for word in command]
        command[command.index("-o") + 1] = str(output)
        # Functions that a row alone used are unused without it.
        command = [word for word in command if word != "-Werror"] + ["-w", "-O1"]
        if subprocess.run(command, cwd=folder, capture_output=True).returncode != 0:
            return "does not compile"
        return all(self.passes(program, output, first) for program in programs)

    def passes(self, program, output, first):
        if program not in self.links:
            self.links[program] = link_command(self.build, program)
        binary = self.scratch / program
        # The mutant stands before the archive that holds the true one.
        words = shlex.split(self.links[program])
        words[words.index("-o") + 1] = str(binary)
        objects = next(i for i, word in enumerate(words) if word.endswith(".o"))
        words.insert(objects, str(output))
        made = subprocess.run(words + ["-Wl,--allow-multiple-definition"], cwd=self.build, capture_output=True, text=True)
        if made.returncode != 0:
            raise SystemExit(made.stderr)
        for asked in ([first], []):
            ran = subprocess.run([binary, "--abort", *asked], cwd=self.build, capture_output=True, timeout=900)
            if ran.returncode != 0:
                return False
        return True


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
