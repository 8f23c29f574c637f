"""A mutant: one changed source compiled beside a finished build, and the module's tests linked with it.

The project's sources are not touched.
"""
import json
import pathlib
import re
import shlex
import subprocess

ROOT = pathlib.Path(__file__).resolve().parents[2]


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
    """Made in the folder `scratch`, one after the other."""

    def __init__(self, build, scratch):
        self.build, self.scratch = build, scratch
        self.links = {}

    def survives(self, source, text, programs, first):
        """True when every program's tests pass with `text` in the place of `source`, those named by `first`
        asked before the others; "does not compile" where it is no program at all."""
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
        for asked in ([first], []) if first else ([],):
            if not asked_and_passed([str(binary), "--abort", *asked], self.build):
                return False
        return True


def asked_and_passed(command, folder):
    """A program that does not come to its end fails as one that says no."""
    try:
        return subprocess.run(command, cwd=folder, capture_output=True, timeout=120).returncode == 0
    except subprocess.TimeoutExpired:
        return False
