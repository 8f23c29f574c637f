"""Installs the core library into a fresh prefix and builds and runs a project that finds it there.

Arguments: the build tree, the consumer's sources, cmake, the compiler, and its further flags.
"""

import pathlib
import subprocess
import sys
import tempfile

LABEL = "LL1.S000000000V.1TS1-204.16D20261125.HAK.PEXAM01.BPCH.Z0123456789ABC"


def run(*command):
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}\n{done.stdout}{done.stderr}")
    return done.stdout


def headers_name_only_their_own(prefix):
    for header in (prefix / "include").rglob("*.h"):
        if "loadlight/core/" not in str(header):
            sys.exit(f"{header} was installed, which is no part of core")


def main(build, sources, cmake, compiler, flags=""):
    with tempfile.TemporaryDirectory() as folder:
        prefix, outside = pathlib.Path(folder, "prefix"), pathlib.Path(folder, "outside")
        run(cmake, "--install", build, "--prefix", prefix, "--component", "core")
        headers_name_only_their_own(prefix)
        run(cmake, "-S", sources, "-B", outside, f"-DCMAKE_PREFIX_PATH={prefix}", f"-DCMAKE_CXX_COMPILER={compiler}",
            f"-DCMAKE_CXX_FLAGS={flags}")
        run(cmake, "--build", outside)
        answers = [run(outside / "label_reader", text) for text in (LABEL, "something else")]
        expected = ["000-000-000V S1-204 2026-11-25\n", "no package label\n"]
        if answers != expected:
            sys.exit(f"expected {expected}, got {answers}")


main(*sys.argv[1:])
