"""A PostgreSQL server of the tests' own, from Debian's packages, listening on a socket in a folder of its own.

    python3 tests/outside/postgres.py start FILE      leaves the server's folder in FILE
    python3 tests/outside/postgres.py stop FILE

PostgreSQL does not run as root: then everything is done as the user postgres.
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

BINARIES = sorted(pathlib.Path("/usr/lib/postgresql").glob("*/bin"))
PORT = 5432
# A test's server may lose what it holds when the machine fails; one of a test of just that says otherwise.
SETTINGS = {"listen_addresses": "''", "fsync": "off", "max_connections": "300", "autovacuum": "off",
            "max_pred_locks_per_transaction": "256", "log_min_messages": "fatal"}


def as_postgres(command, **more):
    user = {"user": "postgres", "group": "postgres", "extra_groups": []} if os.geteuid() == 0 else {}
    return subprocess.run([str(word) for word in command], check=True, stdout=subprocess.DEVNULL, cwd="/", **user, **more)


class Server:
    """`with Server() as server:` runs one; `server.address(role)` is what libpq takes."""

    def __init__(self, folder=None, **settings):
        self.folder = pathlib.Path(folder or tempfile.mkdtemp(prefix="ll-pg-", dir="/tmp"))
        self.settings = SETTINGS | settings

    def start(self):
        if not BINARIES:
            raise SystemExit("PostgreSQL's server is not installed: apt-get install postgresql")
        if os.geteuid() == 0:
            shutil.chown(self.folder, "postgres", "postgres")
        as_postgres([BINARIES[-1] / "initdb", "-D", self.folder / "data", "-A", "trust", "-U", "postgres", "-E", "UTF8",
                     "--locale=C", "--no-sync"])
        return self.run()

    def run(self):
        settings = self.settings | {"unix_socket_directories": self.folder, "port": PORT}
        options = " ".join(f"-c {name}={value}" for name, value in settings.items())
        as_postgres([BINARIES[-1] / "pg_ctl", "-D", self.folder / "data", "-l", self.folder / "log", "-w", "-t", "60",
                     "-o", options, "start"])
        return self

    def halt(self, how="fast"):
        as_postgres([BINARIES[-1] / "pg_ctl", "-D", self.folder / "data", "-m", how, "-w", "stop"])

    def stop(self):
        self.halt("immediate")
        shutil.rmtree(self.folder, ignore_errors=True)

    def __enter__(self):
        return self.start()

    def __exit__(self, *_):
        self.stop()

    def address(self, role="postgres", database="postgres"):
        return f"postgresql://{role}@/{database}?host={self.folder}&port={PORT}"


def main():
    what, place = sys.argv[1], pathlib.Path(sys.argv[2])
    if what == "start":
        server = Server().start()
        place.write_text(str(server.folder), encoding="utf-8")
    else:
        Server(place.read_text(encoding="utf-8")).stop()
        place.unlink()


if __name__ == "__main__":
    main()
