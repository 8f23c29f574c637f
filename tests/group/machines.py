"""Machines that are stations of an office in a database, each with a folder of its own; the command line and the served
station as people use them."""
import pathlib
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "outside"))
import office  # noqa: E402
import postgres  # noqa: E402
import station  # noqa: E402


def admit(server, name):
    """The tables in an empty database, and an office in them whose role bears its name."""
    admin = server.address()
    postgres.as_postgres([postgres.BINARIES[-1] / "psql", "-qX", "-c", f"CREATE ROLE {name} LOGIN", admin])
    for words in (("prepare",), ("admit", "--name", name.title(), "--role", name)):
        reply = office.run("group", words[0], "--as", admin, *words[1:])
        if reply.status != 0:
            raise AssertionError(reply.out + reply.err.encode())


def eventually(what, message, seconds=30):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if what():
            return
        time.sleep(0.2)
    raise AssertionError(f"{message} within {seconds} s")


class Machine(office.Office):
    """One with a folder of its own for what a station keeps."""

    def __init__(self, address, place):
        super().__init__(place / "office")
        self.address, self.place = address, place
        place.mkdir(parents=True)

    def run(self, *arguments, operator="JT", **more):
        who = ["--operator", operator] if operator else []
        return office.run("--office", self.address, *who, *arguments, env={"LOADLIGHT_STATION": str(self.place)}, **more)

    def pdf(self):
        self.files += 1
        return self.place / f"labels-{self.files}.pdf"

    def join(self, code, *more):
        return self.run("station", "join", *more, operator=None, input=f"{code}\n".encode())

    def kept(self):
        return [path for path in self.place.rglob("*") if path.is_file() and path.suffix == ".json"]


class Served(station.Station):
    def __init__(self, machine):
        surroundings = office.surroundings
        office.surroundings = lambda *a, **more: surroundings(*a, LOADLIGHT_STATION=str(machine.place), **more)
        try:
            super().__init__(machine.address)
        finally:
            office.surroundings = surroundings
