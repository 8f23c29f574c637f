"""Reads every #include under src and include/loadlight and fails on one that allowed_arrows.txt does not list."""

import pathlib
import re
import sys
import tempfile
import unittest

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.MULTILINE)
FORBIDDEN_NAMES = {"util", "utils", "utility", "utilities", "common", "commons", "helper", "helpers", "misc",
                   "manager", "managers", "base"}
STANDARD = set("""
algorithm any array atomic barrier bit bitset cassert cctype cerrno cfenv cfloat charconv chrono cinttypes climits
clocale cmath codecvt compare complex concepts condition_variable coroutine csetjmp csignal cstdarg cstddef cstdint
cstdio cstdlib cstring ctime cuchar cwchar cwctype deque exception execution filesystem forward_list fstream functional
future initializer_list iomanip ios iosfwd iostream istream iterator latch limits list locale map memory
memory_resource mutex new numbers numeric optional ostream queue random ranges ratio regex scoped_allocator semaphore
set shared_mutex source_location span sstream stack stdexcept stop_token streambuf string string_view syncstream
system_error thread tuple type_traits typeindex typeinfo unordered_map unordered_set utility valarray variant vector
version""".split())
POSIX = re.compile(r"(sys/\w+|dirent|dlfcn|fcntl|poll|pthread|pwd|signal|stdio|stdlib|termios|time|unistd)\.h")


class Arrows:
    """The table: floors by module, and the (module, target) pairs that are allowed."""

    def __init__(self, text):
        self.floor, self.modules, self.libraries, self.posix, self.faults = {}, set(), [], set(), []
        floors = 0
        for number, line in enumerate(text.splitlines(), 1):
            words = line.split()
            if not words or words[0].startswith("#"):
                continue
            if words[0] == "floor":
                self.floor.update({module: floors for module in words[1:]})
                floors += 1
            else:
                self.add(number, words)

    def add(self, number, words):
        kind = words[0]
        reason = words[2:] if kind == "posix" else words[3:]
        if kind not in ("module", "library", "posix") or not reason or words[1] not in self.floor:
            self.faults.append(f"allowed_arrows.txt:{number}: unreadable, of no known module, or without its why")
        elif kind == "posix":
            self.posix.add(words[1])
        elif kind == "library":
            self.libraries.append((words[1], words[2]))
        elif self.floor.get(words[2], 99) >= self.floor[words[1]]:
            self.faults.append(f"allowed_arrows.txt:{number}: {words[1]} -> {words[2]} does not point down")
        else:
            self.modules.add((words[1], words[2]))

    def allow_library(self, module, header):
        return any(module == allowed and header.startswith(start) for allowed, start in self.libraries)


def sources(root):
    for top in ("src", "include/loadlight"):
        for path in sorted((root / top).rglob("*")):
            if path.suffix in (".h", ".cpp"):
                yield path, (root / top), top != "src"


def angle_fault(arrows, module, public, header):
    if header in STANDARD:
        return None
    if public:
        return "a public header may include only the standard library and our own"
    if POSIX.fullmatch(header):
        return None if module in arrows.posix else "the table lists no operating system header for this module"
    return None if arrows.allow_library(module, header) else "the table does not list this library for this module"


def quoted_fault(arrows, root, path, module, public, header):
    if header.startswith("loadlight/"):
        target = header.split("/")[1]
        if not (root / "include" / header).is_file():
            return "there is no such public header"
        return None if target == module or (module, target) in arrows.modules else "the table does not list this arrow"
    if public:
        return "a public header may include only public headers"
    own = (root / "src" / module).resolve()
    for candidate in (path.parent / header, root / "src" / header):
        if candidate.is_file():
            inside = own in candidate.resolve().parents
            return None if inside else "another module's private header"
    return "there is no such header"


def faults_of(root, arrows):
    faults = list(arrows.faults)
    for path, top, public in sources(root):
        module = path.relative_to(top).parts[0]
        if module not in arrows.floor:
            faults.append(f"{path.relative_to(root)}: its module has no floor in the table")
            continue
        for mark, header in INCLUDE.findall(path.read_text(encoding="utf-8")):
            fault = (angle_fault(arrows, module, public, header) if mark == "<"
                     else quoted_fault(arrows, root, path, module, public, header))
            if fault:
                faults.append(f"{path.relative_to(root)}: {header}: {fault}")
    return faults


def name_faults(root):
    faults = []
    for top in ("src", "include", "tests", "templates", "samples"):
        for path in sorted((root / top).rglob("*")):
            if "__pycache__" not in path.parts and FORBIDDEN_NAMES & set(re.split(r"[^a-z0-9]+", path.stem.lower())):
                faults.append(f"{path.relative_to(root)}: a name that says nothing")
    return faults


class TheCode(unittest.TestCase):
    def test_holds_only_arrows_of_the_table(self):
        arrows = Arrows((HERE / "allowed_arrows.txt").read_text(encoding="utf-8"))
        self.assertGreater(len(list(sources(ROOT))), 50)
        self.assertEqual([], faults_of(ROOT, arrows))

    def test_has_no_dumping_grounds(self):
        self.assertEqual([], name_faults(ROOT))


class ThisTest(unittest.TestCase):
    """That it would notice: a small tree with one thing wrong at a time."""

    TABLE = "floor core\nfloor store app\nmodule app core x\nlibrary store sqlite3.h x\nposix store x\n"

    def faults(self, files, table=TABLE):
        with tempfile.TemporaryDirectory() as folder:
            root = pathlib.Path(folder)
            (root / "include/loadlight").mkdir(parents=True)
            (root / "src").mkdir()
            for name, text in files.items():
                (root / name).parent.mkdir(parents=True, exist_ok=True)
                (root / name).write_text(text, encoding="utf-8")
            return faults_of(root, Arrows(table)) + name_faults(root)

    def test_accepts_what_is_listed(self):
        self.assertEqual([], self.faults({
            "include/loadlight/core/a.h": "#include <string>\n",
            "src/app/b.cpp": '#include "b.h"\n#include "app/b.h"\n#include "loadlight/core/a.h"\n',
            "src/app/b.h": "", "src/store/c.cpp": "#include <sqlite3.h>\n#include <unistd.h>\n"}))

    def test_refuses_what_is_not(self):
        core = {"include/loadlight/core/a.h": "", "include/loadlight/app/d.h": "", "src/store/p.h": ""}
        for name, text in (
                ("src/core/x.cpp", '#include "loadlight/app/d.h"\n'),
                ("src/store/x.cpp", '#include "loadlight/core/a.h"\n'),
                ("src/store/x.cpp", '#include "loadlight/app/d.h"\n'),
                ("src/app/x.cpp", '#include "store/p.h"\n'),
                ("src/app/x.cpp", '#include "../store/p.h"\n'),
                ("src/app/x.cpp", '  #  include <sqlite3.h>\n'),
                ("src/app/x.cpp", "#include <unistd.h>\n"),
                ("src/app/x.cpp", "#include <boost/any.hpp>\n"),
                ("src/app/x.cpp", '#include "absent.h"\n'),
                ("src/app/x.cpp", '#include "loadlight/core/absent.h"\n'),
                ("include/loadlight/store/x.h", "#include <sqlite3.h>\n"),
                ("include/loadlight/store/x.h", '#include "p.h"\n'),
                ("src/stray/x.cpp", ""),
                ("src/app/json_helper.cpp", "")):
            self.assertEqual(1, len(self.faults({**core, name: text})), (name, text))

    def test_refuses_a_table_that_points_up_or_gives_no_reason(self):
        for line in ("module core app x", "module store app x", "module app core", "module app web x", "arrow app core x"):
            self.assertEqual(1, len(self.faults({}, self.TABLE + line + "\n")), line)


if __name__ == "__main__":
    sys.exit(unittest.main(verbosity=1))
