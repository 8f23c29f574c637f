"""The Debian package in a bare Debian 12 root made with debootstrap: installed by apt, used, upgraded over a record of
an earlier program, purged. Runs as root; the packages come from where this machine's apt finds them.

Argument: the build tree.
"""
import os
import pathlib
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile

SUITE = "bookworm"
OFFICE = "/var/lib/loadlight/office"
# As the program before chains left a record: src/store/schema_steps.cpp, backwards.
EARLIER = """
ALTER TABLE ledger DROP COLUMN chain;
ALTER TABLE ledger DROP COLUMN link;
CREATE TABLE before AS SELECT sequence, hash, newest_at FROM ledger_head;
DROP TABLE ledger_head;
CREATE TABLE ledger_head (only_row INTEGER PRIMARY KEY CHECK (only_row = 1), sequence INTEGER NOT NULL,
                          hash TEXT NOT NULL, newest_at INTEGER) STRICT;
INSERT INTO ledger_head SELECT 1, sequence, hash, newest_at FROM before;
DROP TABLE before;
DROP TABLE whereabouts;
DROP INDEX loads_by_emergency;
PRAGMA user_version = 3;
"""


def run(*command, status=0, **more):
    words = [str(word) for word in command]
    done = subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, **more)
    if status is not None and done.returncode != status:
        sys.exit(f"{' '.join(words)}: {done.returncode}\n{done.stdout[-4000:]}")
    return done.stdout


def apt_source():
    """The mirror that this machine's own apt uses for its main archive."""
    places = [pathlib.Path("/etc/apt/sources.list"), *sorted(pathlib.Path("/etc/apt/sources.list.d").glob("*"))]
    text = "\n".join(place.read_text(encoding="utf-8", errors="replace") for place in places if place.is_file())
    for word in re.findall(r"^(?:deb\s+(?:\[[^]]*\]\s+)?|URIs:\s*)(\S+)", text, re.M):
        if word.rstrip("/").endswith("debian"):
            return word
    sys.exit("apt on this machine names no archive of Debian to take the root from")


class Root:
    """A bare Debian, in which commands run."""

    def __init__(self, folder):
        self.folder = folder
        run("debootstrap", "--variant=minbase", SUITE, folder, apt_source())
        shutil.copytree("/etc/apt/apt.conf.d", folder / "etc/apt/apt.conf.d", dirs_exist_ok=True)
        for name in ("docker-clean", "docker-no-languages", "docker-gzip-indexes", "docker-autoremove-suggests"):
            (folder / "etc/apt/apt.conf.d" / name).unlink(missing_ok=True)
        # No service is to start in here.
        policy = folder / "usr/sbin/policy-rc.d"
        policy.write_text("#!/bin/sh\nexit 101\n", encoding="utf-8")
        policy.chmod(0o755)
        run("mount", "-t", "proc", "proc", folder / "proc")

    def run(self, *command, status=0, **more):
        env = {"PATH": "/usr/sbin:/usr/bin:/sbin:/bin", "DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C.UTF-8", "HOME": "/root"}
        env |= {name: value for name, value in os.environ.items() if name.lower().endswith("_proxy")}
        return run("chroot", self.folder, *command, status=status, env=env, **more)

    def install(self, package):
        shutil.copy(package, self.folder / package.name)
        return self.run("apt-get", "install", "-y", "--no-install-recommends", f"./{package.name}")

    def as_office(self, *words, status=0):
        return self.run("runuser", "-u", "loadlight", "--", "env", "LOADLIGHT_STATION=/var/lib/loadlight/station", "loadlight",
                        "--office", OFFICE, *words, status=status)

    def close(self):
        run("umount", self.folder / "proc", status=None)


def package_of(build, into, version):
    """As `cpack` makes it; another version as if the project said so."""
    into.mkdir()
    run("cpack", "-B", into, "-D", f"CPACK_PACKAGE_VERSION={version}", "--config", build / "CPackConfig.cmake", cwd=build)
    made = sorted(into.glob("*.deb"))
    if len(made) != 1:
        sys.exit(f"packages made: {made}")
    return made[0]


def check(is_so, claim):
    if not is_so:
        sys.exit(f"not so: {claim}")
    print(f"ok: {claim}")


def used(root):
    check(" 0.1.0" in root.run("loadlight", "--version"), "the program runs")
    passwd = (root.folder / "etc/passwd").read_text(encoding="utf-8")
    check(re.search(r"^loadlight:", passwd, re.M), "it has a user of its own")
    home = root.folder / "var/lib/loadlight"
    check(home.stat().st_mode & 0o777 == 0o700 and home.stat().st_uid != 0, "whose folder nobody else reads")
    for path in ("lib/systemd/system/loadlight.service", "usr/share/man/man1", "usr/share/bash-completion/completions/loadlight",
                 "usr/share/loadlight/labels", "etc/default/loadlight"):
        check((root.folder / path).exists(), f"/{path} is there")
    unit = (root.folder / "lib/systemd/system/loadlight.service").read_text(encoding="utf-8")
    check("User=loadlight" in unit and "NoNewPrivileges=yes" in unit, "the unit serves as that user, without privileges")
    root.as_office("init", "--demo", "--zone", "UTC")
    check("altered" not in root.as_office("ledger", "verify"), "an office is made, and its record is whole")
    root.as_office("label", "test-page", "--out", "/var/lib/loadlight/page.pdf")
    check((home / "page.pdf").read_bytes().startswith(b"%PDF-"), "a page is drawn: the printing part is there")
    root.as_office("read", "/usr/share/doc/loadlight/examples/office/operators.csv", status=1)
    check(True, "what is no picture is told: the reading part is there")


def entries(root):
    record = sqlite3.connect(root.folder / OFFICE.lstrip("/") / "record.db")
    count = record.execute("SELECT count(*), max(sequence) FROM ledger").fetchone()
    version = record.execute("PRAGMA user_version").fetchone()[0]
    record.close()
    return count, version


def upgraded(root, package):
    folder = root.folder / OFFICE.lstrip("/")
    record = sqlite3.connect(folder / "record.db")
    record.executescript(EARLIER)
    record.close()
    before, earlier = entries(root)
    said = root.install(package)
    check(root.run("dpkg-query", "-W", "-f", "${Version}", "loadlight") == "0.1.1", "the package is upgraded")
    check("not whole" not in said, "and found the record whole")
    now, version = entries(root)
    check(now == before and version > earlier, f"the record keeps its {now[0]} entries and is brought up to date")
    check(list(folder.glob(f"record.db.version-{earlier}*")), "after a copy of it was laid beside")
    root.as_office("due")


def purged(root):
    before, _ = entries(root)
    said = root.run("apt-get", "purge", "-y", "loadlight")
    check("the office's record stays in /var/lib/loadlight" in said, "purge says where the record stays")
    check(entries(root)[0] == before, "and leaves it there")
    check(not (root.folder / "usr/bin/loadlight").exists() and not (root.folder / "etc/default/loadlight").exists(),
          "and takes everything else away")


def main(build):
    with tempfile.TemporaryDirectory(prefix="ll-deb-") as name:
        folder = pathlib.Path(name)
        first = package_of(pathlib.Path(build), folder / "first", "0.1.0")
        second = package_of(pathlib.Path(build), folder / "second", "0.1.1")
        root = Root(folder / "root")
        try:
            root.run("apt-get", "update")
            root.install(first)
            used(root)
            upgraded(root, second)
            purged(root)
        finally:
            root.close()


main(sys.argv[1])
