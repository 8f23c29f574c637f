"""A station whose office vanishes, that many hang on to, or that is told to end: it never says Clear of what it
cannot look up, and always lets go in time."""

import contextlib
import datetime
import http.client
import re
import shutil
import signal
import socket
import tempfile
import threading
import time
import unittest

import office
import station


class Disturbed(office.Case):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-disturbed-")
        cls.addClassCleanup(folder.cleanup)
        cls.model = office.Office(folder.name + "/office")
        cls.cases = {line["case"]: line for line in cls.model.ok("init", "--demo", operator=None)}

    def setUp(self):
        super().setUp()
        self.office = self.model.copied_to(self.folder / "office")
        self.station = station.Station(self.office.folder)
        self.addCleanup(self.station.stop)

    def said(self, browser=None, case="clear"):
        """The outcome on the card, and whether the page that asked could be had."""
        browser = browser or self.station.browser()
        answer = browser.send("/check", "/check/text", {"text": self.cases[case]["payload"]})
        self.assertEqual(200, answer.status, answer.text)
        return answer.json["cards"][0]["outcome"]


class Offices(Disturbed):
    def test_an_office_that_was_moved_away_holds_and_comes_back(self):
        self.assertEqual("clear", self.said())
        browser = self.station.browser()
        form = browser.form("/check", "/check/text")
        away = self.folder / "away"
        self.office.folder.rename(away)
        answer = browser.post("/check/text", list((form | {"text": self.cases["clear"]["payload"]}).items()))
        self.assertEqual((200, "hold"), (answer.status, answer.json["cards"][0]["outcome"]))
        again = browser.get(f"/check/again?read={self.cases['clear']['payload']}&outcome=clear&reasons=")
        self.assertFalse(again.status == 200 and again.json["same"])
        self.assertNotEqual(200, self.station.browser().get("/").status)
        away.rename(self.office.folder)
        self.assertEqual("clear", self.said())

    def test_another_office_in_its_place_is_the_one_that_judges(self):
        self.assertEqual("clear", self.said())
        self.office.folder.rename(self.folder / "away")
        other = office.Office(self.folder / "office")
        other.ok("init", "--demo", operator=None)
        self.assertEqual("do-not-use", self.said())
        shutil.rmtree(other.folder)
        (self.folder / "away").rename(self.office.folder)
        self.assertEqual("clear", self.said())

    def test_a_record_that_is_cut_or_not_ours_never_clears(self):
        record = self.office.folder / "record.db"
        whole = record.read_bytes()
        for data in (whole[:len(whole) // 2], b"", b"no record" * 1000):
            with self.subTest(len(data)):
                copy = self.folder / "copy"
                copy.write_bytes(data)
                copy.replace(record)  # another file under the same name
                browser = self.station.browser()
                page = browser.get("/check")
                if page.status == 200:
                    self.assertNotEqual("clear", self.said(browser))

    def test_an_answer_is_compared_with_what_the_record_says_now(self):
        payload = self.cases["clear"]["payload"]
        browser = self.station.browser()
        same = lambda outcome, reasons="": browser.get(
            f"/check/again?read={payload}&outcome={outcome}&reasons={reasons}").json["same"]
        before = len(self.office.events())
        self.assertTrue(same("clear"))
        self.assertFalse(same("hold"))
        self.assertFalse(same("do-not-use", "withdrawn"))
        self.assertEqual(before, len(self.office.events()))
        self.office.ok("withdraw", self.cases["clear"]["package"], "--why", "torn", operator=self.lead())
        self.assertFalse(same("clear"))
        self.assertTrue(same("do-not-use", "withdrawn"))

    def lead(self):
        return next(row["code"] for row in self.office.ok("operator", "list", operator=None) if row["role"] == "lead")


class Crowds(Disturbed):
    def test_a_check_is_answered_beside_three_hundred_idle_connections(self):
        idle = []
        self.addCleanup(lambda: [each.close() for each in idle])
        for _ in range(300):
            try:
                idle.append(socket.create_connection(("127.0.0.1", self.station.port), timeout=2))
            except OSError:
                break
        begun = time.monotonic()
        self.assertEqual("clear", self.said())
        self.assertLess(time.monotonic() - begun, 20)

    def test_forty_pages_that_follow_the_record_are_told_of_a_change(self):
        streams = []
        for _ in range(40):
            connection = socket.create_connection(("127.0.0.1", self.station.port), timeout=20)
            self.addCleanup(connection.close)
            connection.sendall(f"GET /live HTTP/1.1\r\nHost: 127.0.0.1:{self.station.port}\r\n\r\n".encode())
            streams.append(connection)
        firsts = [self.until(each, rb"event: record\ndata: [\d.]+\n\n") for each in streams]
        self.assertEqual("clear", self.said())
        for each, first in zip(streams, firsts):
            told = self.until(each, rb"event: record\ndata: [\d.]+\n\n")
            self.assertNotEqual(re.findall(rb"data: ([\d.]+)", first), re.findall(rb"data: ([\d.]+)", told))

    def test_a_change_is_told_when_the_clock_is_behind_the_record(self):
        """Ten minutes are within the tolerance: checks go on, and so does word of changes."""
        behind = datetime.datetime.now(datetime.timezone.utc) - datetime.timedelta(minutes=10)
        with station.Station(self.office.folder, at=f"{behind:%Y-%m-%d %H:%M:%S}") as late:
            self.said()  # at the true time, by the other station
            with socket.create_connection(("127.0.0.1", late.port), timeout=20) as connection:
                connection.sendall(f"GET /live HTTP/1.1\r\nHost: 127.0.0.1:{late.port}\r\n\r\n".encode())
                first = self.until(connection, rb"event: record\ndata: [\d.]+\n\n")
                self.assertEqual("clear", self.said(late.browser()))
                stands = re.findall(rb"data: ([\d.]+)", first)[-1]
                told = self.until(connection, rb"event: record\ndata: (?!" + re.escape(stands) + rb"\n)[\d.]+\n\n")
                self.assertIn(b"record", told)

    @staticmethod
    def until(connection, pattern):
        got, begun = b"", time.monotonic()
        while not re.search(pattern, got):
            piece = connection.recv(4096)
            if not piece or time.monotonic() - begun > 30:  # comments keep a line open that tells nothing
                raise AssertionError(f"the stream ended after {got!r}")
            got += piece
        return got


class Endings(Disturbed):
    def asking(self, ended):
        """Asks until the station is gone; what it said is whole or not said."""
        while not ended.is_set():
            try:
                connection = http.client.HTTPConnection("127.0.0.1", self.station.port, timeout=20)
                with contextlib.closing(connection):
                    connection.request("GET", "/check")
                    answer = connection.getresponse()
                    if answer.status == 200 and b"</html>" not in answer.read():
                        self.torn.append("a page that was cut off")
            except http.client.IncompleteRead as cut:
                self.torn.append(cut)
            except (OSError, http.client.HTTPException):
                return

    def test_it_ends_within_seconds_while_requests_run_and_pages_follow(self):
        for wanted in (signal.SIGTERM, signal.SIGINT):
            served = station.Station(self.office.folder)
            self.station, self.torn, ended = served, [], threading.Event()
            followers = []
            for _ in range(5):
                follower = socket.create_connection(("127.0.0.1", served.port), timeout=20)
                follower.sendall(f"GET /live HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n\r\n".encode())
                followers.append(follower)
            drip = socket.create_connection(("127.0.0.1", served.port), timeout=20)
            drip.sendall(b"POST /check/text HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100\r\n\r\nx")
            threads = [threading.Thread(target=self.asking, args=(ended,)) for _ in range(6)]
            for thread in threads:
                thread.start()
            time.sleep(1)
            begun = time.monotonic()
            served.process.send_signal(wanted)
            status = served.process.wait(timeout=20)
            self.assertLess(time.monotonic() - begun, 10)
            ended.set()
            for thread in threads:
                thread.join()
            for each in (*followers, drip):
                each.close()
            served.stop()
            self.assertEqual((0, []), (status, self.torn))
        self.assertEqual(0, self.office.run("ledger", "verify", operator=None).status)


if __name__ == "__main__":
    office.main()
