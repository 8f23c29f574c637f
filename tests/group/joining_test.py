"""A second machine becomes a station of an office in a database, and both work on one record: through the command line
and at two served stations."""
import http.client
import json
import pathlib
import stat
import subprocess
import tempfile
import time

import workday
from machines import Machine, Served, admit, office, postgres


class Joining(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.server = cls.enterClassContext(postgres.Server())
        cls.scratch = pathlib.Path(cls.enterClassContext(tempfile.TemporaryDirectory(prefix="loadlight-group-")))
        admit(cls.server, "elm")
        cls.first = Machine(cls.server.address("elm"), cls.scratch / "first").fill()
        cls.second = Machine(cls.server.address("elm"), cls.scratch / "second")

    def test_1_a_machine_without_the_keys_is_told_how_to_join(self):
        reply = self.second.run("due")
        self.assertEqual((reply.status, reply.lines[0]["error"]), (20, "station-not-joined"))
        self.check_worded(reply)
        checked = self.second.run("check", "--id", "8Q4T0ZK3MW")
        self.assertEqual((checked.status, checked.lines[0]["outcome"]), (10, "hold"))
        begun = self.second.run("init", "--zone", "UTC")
        self.assertEqual((begun.status, begun.lines[0]["error"]), (20, "office-exists"))

    def test_2_only_a_lead_invites_and_only_the_code_joins(self):
        self.assertEqual(self.first.run("station", "invite").lines[0]["error"], "lead-required")
        code = self.first.ok("station", "invite", operator="MB")[0]["code"]
        slip = ("1" if code[0] != "1" else "2") + code[1:]
        for wrong in ("", "ABC", slip):
            reply = self.second.join(wrong)
            self.assertEqual((reply.status, reply.lines[0]["error"]), (20, "join-code-wrong"))
        self.assertEqual(self.second.join(code, "--station", "two words").lines[0]["error"], "bad-value")
        self.assertEqual(self.second.join(code.lower().replace("-", " "), "--station", "CHAIR2").lines[0]["station"], "CHAIR2")
        self.assertEqual(self.second.join(code).status, 1)
        for path in self.first.kept() + self.second.kept():
            self.assertEqual(stat.S_IMODE(path.stat().st_mode), 0o600, path)

    def test_3_both_work_on_one_record(self):
        load, packages = self.first.released(2)
        package = packages[0]["package"]
        self.assertEqual(self.second.run("check", "--text", packages[0]["payload"]).status, 0)
        self.second.ok("open", package, *office.EYES)
        self.assertEqual(self.first.run("open", package, *office.EYES).status, 20)
        self.assertEqual(self.first.run("check", "--id", packages[1]["package"]).status, 0)
        for machine in (self.first, self.second):
            self.assertEqual(machine.run("ledger", "verify").status, 0)

    def test_4_a_key_that_one_adds_is_known_to_the_other(self):
        self.first.ok("key", "add", operator="MB")
        _, packages = self.first.released(1)
        self.assertEqual(self.second.run("check", "--text", packages[0]["payload"]).status, 0)
        self.assertEqual([key["key"] for key in self.second.ok("key", "list")], [1, 2])
        held = subprocess.run([postgres.BINARIES[-1] / "psql", "-qXAt", "-c", "SELECT wrapped FROM loadlight.office_keys",
                               self.server.address()], check=True, capture_output=True, text=True).stdout
        self.assertTrue(held.strip())
        keys = next(path for path in self.first.kept() if path.name == "keys.json")
        for key in json.loads(keys.read_text(encoding="utf-8"))["keys"]:
            self.assertNotIn(key["key"], held)

    def test_5_a_password_in_the_address_is_refused_and_not_shown(self):
        for address in ("postgresql://elm:hushhush@/postgres", "postgresql://elm@/postgres?password=hushhush"):
            reply = Machine(address, self.scratch / str(hash(address))).run("due")
            self.assertEqual((reply.status, reply.lines[0]["error"]), (2, "password-in-address"))
            self.assertNotIn("hushhush", reply.out.decode() + reply.err)

    def test_6_a_page_hears_what_another_station_did(self):
        package, heard = self.first.released(1)[1][0]["package"], []
        with Served(self.first) as one:
            stream = Stream(one.port)
            for _ in range(5):
                self.second.ok("shelve", package, "--location", "CAB1")
                done = time.monotonic()
                newest = self.asked("SELECT max(sequence) FROM loadlight.ledger")
                while not stream.event().endswith("." + newest):
                    pass
                heard.append(time.monotonic() - done)
            self.assertEqual(self.asked("SELECT count(*) FROM pg_stat_activity WHERE query LIKE 'LISTEN %'"), "1")
            stream.close()
        self.assertLess(min(heard), 1)  # the others may have met a busy machine

    def asked(self, sql):
        return workday.say(self.server, sql)

    def test_7_a_backup_comes_back_as_an_office_in_a_folder_with_the_same_verdicts(self):
        packages = [label["package"] for label in self.first.released(2)[1]]
        self.first.ok("open", packages[0], *office.EYES)
        archive, folder = self.scratch / "backup.tar", self.scratch / "back"
        self.first.ok("ledger", "backup", "--out", archive, operator="MB")
        self.first.ok("ledger", "restore", archive, "--into", folder, operator="MB")
        back = office.Office(folder)
        self.assertEqual(back.run("ledger", "verify").status, 0)
        for package in packages:
            verdicts = [each.run("check", "--id", package).lines[0] for each in (self.first, back)]
            self.assertEqual(*[(line["outcome"], line["reasons"], line["load"]) for line in verdicts])


class Stream:
    """The events of an open page."""

    def __init__(self, port):
        self.line = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        self.line.request("GET", "/live")
        self.answer = self.line.getresponse()

    def event(self):
        """The next "record" event's state."""
        while True:
            line = self.answer.readline().decode()
            if not line:
                raise AssertionError("the stream ended")
            if line.startswith("data: "):
                return line[6:].strip()

    def close(self):
        self.line.close()


if __name__ == "__main__":
    office.main()
