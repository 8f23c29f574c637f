"""Installs everything into a fresh prefix, moves it, and looks whether the program there finds what it needs.

Arguments: the build tree, cmake, and the libraries' folder below the prefix.
"""

import os
import pathlib
import subprocess
import sys
import tempfile


def run(*command, **more):
    done = subprocess.run(command, capture_output=True, text=True, **more)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}: {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout


def missing(prefix, libraries):
    expected = ["bin/loadlight", "share/man/man1/loadlight.1", "share/bash-completion/completions/loadlight",
                "share/loadlight/words/en.json", "share/loadlight/labels", "include/loadlight/core/payload.h",
                f"{libraries}/cmake/LoadlightCore/LoadlightCoreConfig.cmake", f"{libraries}/loadlight/render.so",
                f"{libraries}/loadlight/vision.so",
                f"{libraries}/loadlight/web.so", f"{libraries}/loadlight/printing.so",
                f"{libraries}/loadlight/group.so"]
    return [path for path in expected if not (prefix / path).exists()]


def files_that_name(prefix, text):
    return [str(path) for path in prefix.rglob("*") if path.is_file() and path.suffix != ".a"
            and text.encode() in path.read_bytes()]


def opened_by(program, folder):
    """What the program answers when it draws a page: it needs its words, a template and the render part."""
    quiet = {key: value for key, value in os.environ.items() if not key.startswith("LOADLIGHT_")}
    office, page = folder / "office", folder / "page.pdf"
    run(program, "--office", office, "init", "--zone", "UTC", env=quiet)
    run(program, "--office", office, "label", "test-page", "--out", page, env=quiet)
    return page.read_bytes()[:5]


def main(build, cmake, libraries):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        run(cmake, "--install", build, "--prefix", folder / "first")
        prefix = (folder / "first").rename(folder / "moved")
        if absent := missing(prefix, libraries):
            sys.exit(f"not installed: {absent}")
        if opened_by(prefix / "bin/loadlight", folder) != b"%PDF-":
            sys.exit("the installed program drew no page")
        if found := files_that_name(prefix / "share", str(folder)):
            sys.exit(f"these name the prefix: {found}")


main(*sys.argv[1:])
