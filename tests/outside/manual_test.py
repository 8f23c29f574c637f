"""Walks the program's --help and demands every verb and option in the manual page and the shell completion.
An option has to stand in the manual's entry of its own verb; --code, which every table has, anywhere.

Arguments: the program, and the folder of loadlight.1 and loadlight.bash-completion.
"""

import functools
import pathlib
import re
import subprocess
import sys

WORDS_OF = 'source "$1"; _loadlight_words "$2"'


def help_of(program, path):
    return subprocess.run([program, *path, "--help"], capture_output=True, text=True, check=True).stdout


def section(text, title):
    found = re.search(rf"^{title}:\n(.*?)(?:\n\n|\Z)", text, re.MULTILINE | re.DOTALL)
    return found.group(1) if found else ""


def subverbs(text):
    return re.findall(r"^  ([a-z][a-z-]*)", section(text, "Subcommands"), re.MULTILINE)


def options(text):
    return {option for option in re.findall(r"(?:^  |,)(--[a-z][a-z-]*)", section(text, "Options"), re.MULTILINE)}


@functools.cache
def manual_words(page):
    rendered = subprocess.run(["man", "--warnings", "-l", page], capture_output=True, text=True, check=True,
                              env={"PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8", "MANWIDTH": "2000"})
    if rendered.stderr:
        sys.exit(rendered.stderr)
    return re.sub(r".\x08", "", rendered.stdout).replace("\u2010", "-")


def entry_of(manual, path):
    """The manual's lines about this verb alone; those of "label" too where it says "paper"."""
    found = re.search(rf"^( +){re.escape(path)}(?= |$).*\n(?:\1 +\S.*\n|\n)*", manual, re.MULTILINE)
    entry = found.group(0) if found else ""
    return entry + (entry_of(manual, "label") if "[paper]" in entry and path != "label" else "")


def stands_in(name, text):
    return re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", text)


def faults(program, page, completion, path=()):
    text = help_of(program, path)
    manual = manual_words(page)
    offered = subprocess.run(["bash", "-c", WORDS_OF, "bash", completion, " ".join(path)], capture_output=True,
                             text=True, check=True).stdout.split()
    names = set(subverbs(text)) | (options(text) - {"--help", "--version"} if path else options(text))
    for name in sorted(names):
        place = " ".join((*path, name))
        if name not in offered:
            yield f"{place}: not in the shell completion"
        entry = entry_of(manual, " ".join(path)) if path and name.startswith("--") and name != "--code" else ""
        if not stands_in(name, entry or manual):
            yield f"{place}: not in the manual page" + (" beside its verb" if entry else "")
    for word in offered:
        if word not in names | {"--help", "--version"}:
            yield f"{' '.join((*path, word))}: completed, but unknown to the program"
    for verb in subverbs(text):
        yield from faults(program, page, completion, (*path, verb))


def main(program, folder):
    if not subverbs(help_of(program, ())):
        sys.exit("the program's help names no verbs")
    found = list(faults(program, pathlib.Path(folder, "loadlight.1"), pathlib.Path(folder, "loadlight.bash-completion")))
    if found:
        sys.exit("\n".join(found))


main(*sys.argv[1:])
