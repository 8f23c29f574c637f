"""A station that loses the database: what its own copy of the record is worth, and what becomes of what was done
without it. Two stations of one office, each with a folder of its own; the server is stopped and started."""
import os
import pathlib
import random
import signal
import subprocess
import tempfile
import time
import unittest

import relay
from machines import eventually, office, postgres, station
from workday import say

MORNING = "2026-11-25 08:00:00"
MINUTES = 30
LONGEST = 10  # seconds, for an answer while the line is silent


class Station(office.Office):
    """One of an office in a database, with a folder of its own for what it keeps itself."""

    def __init__(self, address, place, at=MORNING):
        super().__init__(place / "office", at)
        self.address, self.place = address, place

    def run(self, *arguments, operator="JT", **more):
        more.setdefault("at", self.at)
        who = ["--operator", operator] if operator else []
        return office.run("--office", self.address, *who, *arguments, env={"LOADLIGHT_STATION": str(self.place)}, **more)

    def check(self, package):
        return self.run("check", "--id", package).lines[0]

    def open(self, package, visit):
        return self.run("open", package, *office.EYES, "--visit", visit)

    def kept(self, name):
        return next(self.place.glob(f"*/copy/{name}"))

    def serve(self):
        return Served(self)


class Served(station.Station):
    def __init__(self, of):
        command = [office.PROGRAM, "--office", of.address, "serve", "--port", "0", "--json"]
        self.told = tempfile.TemporaryFile()
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=self.told,
                                        env=office.surroundings(of.at, LOADLIGHT_STATION=str(of.place)))
        self.process.stderr = self.told
        line = self.process.stdout.readline()
        self.url = office.parsed(line)[0]["listening"]
        self.port = int(self.url.rstrip("/").rsplit(":", 1)[1])

    def said(self):
        self.told.seek(0)
        return self.told.read().decode()


class CopyTest(office.Case):
    def setUp(self):
        super().setUp()
        self.server = self.enterContext(postgres.Server())
        self.away = False
        self.addCleanup(lambda: self.away and self.back())
        say(self.server, "CREATE DATABASE practice")
        admin = self.server.address("postgres", "practice")
        self.done("group", "prepare", "--as", admin)
        address = self.admit("harbour")
        self.one, self.other = Station(address, self.folder / "one"), Station(address, self.folder / "other")
        self.one.fill()
        code = self.one.ok("station", "invite", operator="MB")[0]["code"]
        self.other.ok("station", "join", "--station", "OTHER", operator=None, input=code.encode() + b"\n")

    def done(self, *arguments):
        reply = office.run(*arguments)
        self.assertEqual(0, reply.status, reply.out.decode() + reply.err)

    def admit(self, name):
        say(self.server, f"CREATE ROLE {name} LOGIN IN ROLE loadlight_station")
        self.done("group", "admit", "--as", self.server.address("postgres", "practice"), "--name", name, "--role", name)
        return self.server.address(name, "practice")

    def allow(self, minutes=MINUTES):
        self.one.ok("profile", "set", "local-copy-minutes", str(minutes), "--why", "agreed", operator="MB")

    def released(self, count):
        """Packages in a released load, and the other station's clock beside this one's."""
        packages = [label["package"] for label in self.one.released(count)[1]]
        self.other.at = self.one.at
        return packages

    def copy(self):
        return self.one.ok("station", "copy", operator=None)[0]

    def cut(self):
        self.server.halt("immediate")
        self.away = True

    def back(self):
        self.server.run()
        self.away = False

    def events(self, kind):
        return [line for line in self.other.events() if line["kind"] == kind]

    def later(self, **time):
        self.one.later(**time)
        self.other.at = self.one.at

    def require_hold(self, answer):
        self.assertEqual("hold", answer["outcome"])
        self.assertEqual(["record-unreachable"], office.codes(answer))
        self.assertNotIn("copy_age_minutes", answer)

    def test_a_station_holds_unless_the_office_allows_a_copy(self):
        package = self.released(1)[0]
        self.assertEqual(0, self.copy()["minutes"])
        self.cut()
        self.require_hold(self.one.check(package))
        self.check_failure(self.one.open(package, "V-1"), "office-unreadable", 1)
        self.back()
        self.assertEqual("clear", self.one.check(package)["outcome"])

    def test_an_office_in_a_folder_keeps_no_copy(self):
        alone = office.Office(self.folder / "alone", MORNING).fill()
        self.check_failure(alone.run("station", "copy"), "no-local-copy", 20)
        self.assertEqual([], alone.ok("station", "openings"))

    def test_a_copy_is_as_old_as_it_may_be_and_what_is_done_by_it_is_written_once(self):
        self.allow()
        first, second, third, fourth = self.released(4)
        recalled = self.released(1)[0]
        self.assertEqual(MINUTES, self.copy()["minutes"])
        self.cut()
        answer = self.one.check(first)
        self.assertEqual("clear", answer["outcome"])
        self.assertIn("local-copy", answer["notes"])
        self.assertEqual(0, answer["copy_age_minutes"])
        said = self.one.run("check", "--id", first, json_wanted=False)
        self.assertIn("cannot be reached", said.out.decode())
        self.later(minutes=10)
        opened_at = self.one.at
        for package, visit in ((first, "V-1"), (second, "V-2"), (recalled, "V-3")):
            self.assertEqual(0, self.one.open(package, visit).status)
        self.assertEqual(["already-opened"], office.codes(self.one.check(first)))
        self.assertEqual(20, self.one.open(first, "V-4").status)
        self.check_failure(self.one.run("withdraw", third, "--why", "wet"), "office-unreadable", 1)
        self.check_failure(self.one.run("open", third, "--dry", "no", *office.EYES[2:]), "office-unreadable", 1)
        self.check_failure(self.one.run("open", third, *office.EYES, "--already-opened", "late"), "office-unreadable", 1)
        self.check_failure(self.one.run("due"), "office-unreadable", 1)
        self.later(minutes=MINUTES - 10)
        self.assertEqual("clear", self.one.check(third)["outcome"])
        self.later(seconds=1)
        self.require_hold(self.one.check(third))
        self.require_hold(self.other.check(third))

        self.back()
        self.assertEqual(0, self.other.open(second, "V-9").status)
        load = self.other.check(recalled)["load"]
        self.other.ok("load", "revoke", load, "--why", "door seal", operator="MB")
        told = self.one.run("check", "--id", fourth)
        self.assertEqual(2, told.err.count("speaks against it"), told.err)
        self.assertNotIn("V-3", told.err)
        listed = {line["package"]: line for line in self.other.ok("station", "openings")}
        self.assertEqual({second, recalled}, set(listed))
        self.assertEqual(["already-opened"], listed[second]["reasons"])
        self.assertEqual("V-2", listed[second]["visit"])
        self.assertEqual(["release-revoked"], listed[recalled]["reasons"])
        self.assertEqual(["already-opened"], office.codes(self.other.check(first)))
        self.assertIn("already-opened", office.codes(self.other.check(recalled)))
        openings = [line for line in self.events("package-opened") if line["subject"] == first]
        self.assertEqual(1, len(openings))
        self.assertEqual(opened_at.replace(" ", "T") + "Z", openings[0]["at"][:19] + "Z")
        self.assertNotIn("speaks against it", self.one.run("check", "--id", fourth).err)
        self.assertEqual(0, self.other.run("ledger", "verify").status)

        self.cut()  # the copy lacks what was written
        self.require_hold(self.one.check(fourth))

    def test_a_station_killed_while_it_writes_loses_and_doubles_nothing(self):
        self.allow()
        packages = self.released(6)
        self.copy()
        self.cut()
        for package in packages:
            self.assertEqual(0, self.one.open(package, "V-1").status)
        waiting = self.one.kept("queue").read_bytes()
        self.back()
        draw = random.Random(7)
        for _ in range(12):
            command = [office.PROGRAM, "--office", self.one.address, "due", "--json"]
            process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
                                       env=office.surroundings(self.one.at, LOADLIGHT_STATION=str(self.one.place)))
            time.sleep(draw.uniform(0.01, 0.25))
            os.kill(process.pid, signal.SIGKILL)
            process.wait()
        self.one.ok("due")
        self.one.kept("queue").write_bytes(waiting)  # as it is when the station dies before it forgets
        told = self.one.run("due")
        self.assertEqual((0, ""), (told.status, told.err))
        self.assertEqual(b"", self.one.kept("queue").read_bytes())
        self.assertEqual(sorted(packages), sorted(line["subject"] for line in self.events("package-opened")))
        self.assertEqual([], self.other.ok("station", "openings"))
        self.assertEqual(0, self.other.run("ledger", "verify").status)

    def test_a_station_that_the_server_refuses_or_whose_copy_is_none_holds(self):
        self.allow()
        package = self.released(1)[0]
        self.copy()
        say(self.server, "ALTER ROLE harbour NOLOGIN")
        self.require_hold(self.one.check(package))
        say(self.server, "ALTER ROLE harbour LOGIN")
        self.copy()
        self.cut()
        self.assertEqual("clear", self.one.check(package)["outcome"])
        state = self.one.kept("state").read_text()
        record = self.one.kept("record/record.db")
        for spoilt in ("", "1 x\n", state.replace(" ", " 9")):
            self.one.kept("state").write_text(spoilt)
            self.require_hold(self.one.check(package))
        self.one.kept("state").write_text(state)
        self.one.kept("queue").write_text("nothing that we wrote\n")
        self.require_hold(self.one.check(package))
        self.one.kept("queue").write_text("")
        self.assertEqual("clear", self.one.check(package)["outcome"])
        whole = record.read_bytes()
        record.write_bytes(whole[:5000])
        self.assertEqual("hold", self.one.check(package)["outcome"])

    def test_a_served_station_keeps_its_copy_and_writes_by_itself(self):
        self.allow()
        first, second, third = self.released(3)
        pin = self.one.ok("operator", "pin", "--code", "JT", operator="MB")[0]["pin"]
        with self.one.serve() as served:
            state = lambda: [path.read_text() for path in self.one.place.glob("*/copy/state")]
            eventually(lambda: state() and not state()[0].endswith("-\n"), "no copy was taken")
            self.cut()
            browser = served.browser()
            browser.sign_in("JT", pin)
            card = browser.send("/check", "/check/text", {"text": first}).json["cards"][0]
            self.assertEqual("clear", card["outcome"])
            self.assertIn("cannot be reached", card["html"])
            path = f"/packages/{first}/open"
            answer = browser.send(path, path, {"dry": "yes", "intact": "yes", "indicator": "changed", "visit": "V-1"})
            self.assertEqual(200, answer.status, answer.text)
            again = browser.send("/check", "/check/text", {"text": first}).json["cards"][0]
            self.assertIn("already-opened", again["reasons"])
            self.assertNotEqual(200, browser.get("/loads").status)
            self.back()
            self.other.ok("open", second, *office.EYES)
            eventually(lambda: office.codes(self.other.check(first)) == ["already-opened"], "the opening was not written")
            eventually(lambda: state() and not state()[0].endswith("-\n"), "the copy was not taken anew")
            eventually(lambda: browser.get("/loads").status == 200, "the record is not back")
            self.cut()
            card = browser.send("/check", "/check/text", {"text": first}).json["cards"][0]
            self.assertIn("already-opened", card["reasons"])
        with self.one.serve() as served:  # begun while the server is away
            browser = served.browser()
            browser.sign_in("JT", pin)
            card = browser.send("/check", "/check/text", {"text": third}).json["cards"][0]
            self.assertEqual("clear", card["outcome"])
            path = f"/packages/{third}/open"
            self.assertEqual(200, browser.send(path, path, {"dry": "yes", "intact": "yes", "indicator": "changed"}).status)
            with self.one_is_away(served):
                self.back()
                self.other.ok("open", third, *office.EYES)
            eventually(lambda: "speaks against it" in served.said(), "the contradicted opening was not told")
            page = browser.page("/recall")
            self.assertIn(f"/packages/{third}", page)

    def test_what_waits_is_brought_along_when_the_office_has_moved(self):
        self.allow()
        first, second = self.released(2)
        self.copy()
        self.cut()
        self.assertEqual(0, self.one.open(first, "V-1").status)
        self.back()
        cove = self.admit("cove")
        self.other.ok("office", "move", "--to", cove, operator="MB")
        self.assertEqual(["office-moved"], [line["error"] for line in self.one.run("due").lines])
        here, there = Station(cove, self.one.place, self.one.at), Station(cove, self.other.place, self.one.at)
        code = there.ok("station", "invite", operator="MB")[0]["code"]
        here.ok("station", "join", "--station", "ONE", operator=None, input=code.encode() + b"\n")
        self.assertEqual("clear", here.check(first)["outcome"])
        self.assertEqual(2, here.run("station", "bring", "elsewhere").status)
        elsewhere = Station(str(self.folder / "elsewhere"), self.folder / "third", self.one.at).fill()
        strange = office.run("--office", elsewhere.address, "--operator", "JT", "station", "bring", self.one.address,
                             at=self.one.at, env={"LOADLIGHT_STATION": str(self.one.place)})
        self.assertEqual("records-differ", strange.lines[0]["error"])
        self.assertEqual(1, here.ok("station", "bring", self.one.address)[0]["written"])
        self.assertEqual(["already-opened"], office.codes(here.check(first)))
        self.assertEqual("clear", here.check(second)["outcome"])
        self.assertEqual(0, here.ok("station", "bring", self.one.address)[0]["written"])
        self.assertEqual((0, b""), (here.run("ledger", "verify").status, here.run("ledger", "verify").out))

    def in_time(self, what):
        begun = time.monotonic()
        answer = what()
        self.assertLess(time.monotonic() - begun, LONGEST)
        return answer

    def test_a_silent_line_keeps_nobody_waiting(self):
        self.allow()
        first, second = self.released(2)
        code = self.one.ok("station", "invite", operator="MB")[0]["code"]
        with relay.Relay(self.server.folder / f".s.PGSQL.{postgres.PORT}") as line:
            far = Station(f"postgresql://harbour@127.0.0.1:{line.port}/practice", self.folder / "far", self.one.at)
            far.ok("station", "join", "--station", "FAR", operator=None, input=code.encode() + b"\n")
            far.ok("station", "copy")
            line.stop()
            self.assertEqual("clear", self.in_time(lambda: far.check(first))["outcome"])
            self.assertEqual(0, self.in_time(lambda: far.open(first, "V-1")).status)
            line.go_on()
            far.ok("station", "copy")
            with far.serve() as served:
                browser = served.browser()
                self.assertEqual("clear", browser.send("/check", "/check/text", {"text": second}).json["cards"][0]["outcome"])
                far.ok("station", "copy")
                form = browser.form("/check", "/check/text")
                line.stop()
                fields = list((form | {"text": second}).items())
                card = self.in_time(lambda: browser.post("/check/text", fields)).json["cards"][0]
                self.assertIn("cannot be reached", card["html"])
                self.assertEqual("clear", card["outcome"])
                self.in_time(lambda: browser.page("/check"))
                line.go_on()
                eventually(lambda: browser.get("/loads").status == 200, "the record is not back")
        self.assertEqual(["already-opened"], office.codes(self.other.check(first)))

    def one_is_away(self, served):
        """The station stands still while the other is quicker."""
        class Paused:
            def __enter__(inner):
                os.kill(served.process.pid, signal.SIGSTOP)

            def __exit__(inner, *_):
                os.kill(served.process.pid, signal.SIGCONT)
        return Paused()


if __name__ == "__main__":
    office.main()
