"""The repository's outside: what lies at its top, how long files are, and that nothing names a machine's paths."""

import pathlib
import re
import sys
import unittest

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
TOP = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE", "src", "include", "templates", "tests", "samples"}
MACHINE_PATH = re.compile(rb"(?<![\w.~-])/(?:" + b"|".join((b"work", b"root", b"home")) + rb")/")


def is_build_folder(path):
    return path.is_dir() and path.name.startswith("build")


def files():
    for top in sorted(ROOT.iterdir()):
        if top.name == ".git" or is_build_folder(top):
            continue
        for path in [top] if top.is_file() else sorted(top.rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                yield path


def longest_allowed(path):
    if path.parts[0] == "tests":
        return 500
    return {".h": 200, ".cpp": 400}.get(path.suffix)


class Layout(unittest.TestCase):
    def test_the_top_holds_nothing_else(self):
        names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".") and not is_build_folder(path)}
        self.assertEqual(set(), names - TOP)

    def test_no_file_names_a_path_of_some_machine(self):
        named = [str(path.relative_to(ROOT)) for path in files() if MACHINE_PATH.search(path.read_bytes())]
        self.assertEqual([], named)

    def test_files_stay_short(self):
        too_long = []
        for path in files():
            inside = path.relative_to(ROOT)
            limit = longest_allowed(inside) if path.suffix in (".h", ".cpp", ".py") else None
            lines = path.read_bytes().count(b"\n")
            if limit and lines > limit:
                too_long.append(f"{inside}: {lines} lines, more than {limit}")
        self.assertEqual([], too_long)

    def test_names_are_such_that_ctest_runs_the_test(self):
        """A semicolon ends a CMake list's item: the name is cut, matches no test, and nothing passes as something."""
        cut = []
        for path in sorted((ROOT / "tests").rglob("*_test.cpp")):
            names = re.findall(r'TEST_CASE\(\s*((?:"(?:[^"\\]|\\.)*"\s*)+)', path.read_text(encoding="utf-8"))
            cut += [f"{path.relative_to(ROOT)}: {name}" for name in names if re.search(r"[;\[\]]", name)]
        self.assertEqual([], cut)


class ThisTest(unittest.TestCase):
    def test_would_notice_a_path(self):
        for text in (b"cd /wo" b"rk/x", b'"/ro' b'ot/x"', b"=/ho" b"me/ann"):
            self.assertTrue(MACHINE_PATH.search(text), text)
        for text in (b"frame" b"work/x", b"~/wo" b"rk/x", b"src/ho" b"me/x", b"/homes/ann"):
            self.assertFalse(MACHINE_PATH.search(text), text)


if __name__ == "__main__":
    sys.exit(unittest.main(verbosity=1))
