"""Two PostgreSQL servers, the second following the first, and the first killed as a machine dies."""
import os
import pathlib
import shutil
import signal
import tempfile
import time

import workday

postgres = workday.postgres


def name_of(pid):
    try:
        return pathlib.Path(f"/proc/{pid}/comm").read_text(encoding="utf-8")
    except OSError:
        return ""


def children_of(pid):
    found = []
    for entry in pathlib.Path("/proc").iterdir():
        if not entry.name.isdigit():
            continue
        try:
            if int((entry / "stat").read_text().rsplit(")", 1)[1].split()[1]) == pid:
                found.append(int(entry.name))
        except (OSError, ValueError):
            continue
    return found


def kill(server):
    """All its processes at once; nothing where none runs."""
    try:
        head = int((server.folder / "data" / "postmaster.pid").read_text(encoding="utf-8").split()[0])
    except OSError:
        return
    if "postgres" not in name_of(head):
        return
    for process in [head, *children_of(head)]:
        try:
            os.kill(process, signal.SIGKILL)
        except ProcessLookupError:
            pass


class Pair:
    """`with Pair(waits=True) as pair:` a commit is told only once the second server has it too."""

    def __init__(self, waits):
        self.waits = waits
        self.first = postgres.Server(log_min_messages="warning", max_connections="60")
        self.second = postgres.Server(log_min_messages="warning", max_connections="60", hot_standby="on")

    def __enter__(self):
        self.first.start()
        return self

    def follow(self):
        """The second server takes all that the first has, and follows it from now on."""
        if os.geteuid() == 0:
            shutil.chown(self.second.folder, "postgres", "postgres")
        source = f"host={self.first.folder} port={postgres.PORT} user=postgres application_name=second"
        postgres.as_postgres([postgres.BINARIES[-1] / "pg_basebackup", "-d", source, "-D", self.second.folder / "data", "-R",
                              "-X", "stream", "-c", "fast", "--no-sync"])
        self.second.run()
        if self.waits:
            workday.say(self.first, "ALTER SYSTEM SET synchronous_standby_names = 'second'")
            workday.say(self.first, "SELECT pg_reload_conf()")
        wanted = "sync" if self.waits else "async"
        for _ in range(300):
            if workday.say(self.first, "SELECT sync_state FROM pg_stat_replication") == wanted:
                return
            time.sleep(0.1)
        raise AssertionError("the second server does not follow the first")

    def address(self, role, database):
        return f"postgresql://{role}@/{database}?host={self.first.folder},{self.second.folder}&port={postgres.PORT},{postgres.PORT}"

    def hold_back(self):
        """From now on nothing reaches the second server, as over a line that lags."""
        os.kill(int(workday.say(self.first, "SELECT pid FROM pg_stat_replication")), signal.SIGSTOP)

    def kill_first(self):
        """When it was over, in milliseconds."""
        kill(self.first)
        return int(time.time() * 1000)

    def promote(self):
        postgres.as_postgres([postgres.BINARIES[-1] / "pg_ctl", "-D", self.second.folder / "data", "-w", "promote"])

    def __exit__(self, *_):
        for server in (self.first, self.second):
            kill(server)
            shutil.rmtree(server.folder, ignore_errors=True)
