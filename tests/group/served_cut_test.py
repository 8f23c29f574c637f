"""A served station and the command line beside it, when the line to the database goes silent and when the first of two
servers dies: Hold until it is back, and then as before, by themselves."""
import pathlib
import tempfile
import time

import relay
import replicated
from machines import Machine, Served, admit, eventually, office, postgres

LONGEST = 10  # seconds, for an answer while the line is silent
HOLD = 10     # the exit status


class ServedCut(office.Case):
    def setUp(self):
        super().setUp()
        self.place = pathlib.Path(self.enterContext(tempfile.TemporaryDirectory(prefix="loadlight-cut-")))

    def begin(self, server, address):
        """The office on that server; two packages of a released load, and one label's text."""
        admit(server, "elm")
        self.machine = Machine(address, self.place / "machine").fill()
        self.payload, self.spare = [label["payload"] for label in self.machine.released(2)[1]]

    def typed(self):
        """What the command line says."""
        return self.machine.run("check", "--text", self.payload)

    def shown(self, browser):
        """What the page says."""
        return browser.send("/check", "/check/text", {"text": self.payload}).json["cards"][0]

    def both_clear(self, browser):
        return self.typed().status == 0 and self.shown(browser)["outcome"] == "clear"

    def in_time(self, what):
        begun = time.monotonic()
        answer = what()
        self.assertLess(time.monotonic() - begun, LONGEST)
        return answer

    def both_hold(self, browser):
        card = self.in_time(lambda: self.shown(browser))
        self.assertEqual(("hold", "record-unreachable"), (card["outcome"], card["reasons"]))
        self.assertEqual(HOLD, self.in_time(self.typed).status)

    def test_a_silent_line(self):
        with postgres.Server() as server, relay.Relay(server.folder / f".s.PGSQL.{postgres.PORT}") as line:
            self.begin(server, f"postgresql://elm@127.0.0.1:{line.port}/postgres")
            with Served(self.machine) as served:
                browser = served.browser()
                self.assertTrue(self.both_clear(browser))
                line.stop()
                self.both_hold(browser)
                line.go_on()
                eventually(lambda: self.both_clear(browser), "not clear again")
                line.kill()
                self.both_hold(browser)
                line.start()
                eventually(lambda: self.both_clear(browser), "not clear again")

    def test_the_first_server_dies(self):
        with replicated.Pair(waits=True) as pair:
            self.begin(pair.first, pair.address("elm", "postgres"))
            pair.follow()
            with Served(self.machine) as served:
                browser = served.browser()
                self.assertTrue(self.both_clear(browser))
                told = self.machine.events()
                pair.kill_first()
                self.both_hold(browser)
                pair.promote()
                eventually(lambda: self.both_clear(browser), "not clear at the second server")
                self.assertEqual(told, self.machine.events()[:len(told)])
                package = self.machine.run("check", "--text", self.spare).lines[0]["package"]
                self.machine.ok("open", package, *office.EYES)
                self.assertEqual(0, self.machine.run("ledger", "verify").status)


if __name__ == "__main__":
    office.main()
