"""A shared tablet that nobody touches acts for nobody, until the one who left is back."""

import pathlib
import re
import tempfile
import time
import unittest

import office
import station

LOCK = 60  # seconds: the shortest that an office can set


class Locked(unittest.TestCase):
    """One wait for all: what was left alone, and what was not."""

    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(folder.cleanup)
        cls.office = office.Office(pathlib.Path(folder.name) / "office").fill()
        cls.office.ok("profile", "set", "idle-lock-minutes", "1", "--why", "a shared tablet", operator="MB")
        cls.pins = {code: cls.office.ok("operator", "pin", code, operator="MB")[0]["pin"] for code in ("MB", "JT")}
        cls.office.test_of_the_day()
        cls.station = station.Station(cls.office.folder)
        cls.addClassCleanup(cls.station.stop)
        cls.left, cls.half = cls.signed_in("JT"), cls.signed_in("JT")
        cls.used = cls.signed_in("JT")
        cls.taken_over = cls.signed_in("MB")
        cls.taken_over.sign_in("JT", cls.pins["JT"])
        cls.forms = {browser: browser.page("/loads") for browser in (cls.left, cls.half)}
        cls.page = cls.used.page("/loads")
        cls.wait()

    @classmethod
    def signed_in(cls, code):
        browser = cls.station.browser()
        browser.sign_in(code, cls.pins[code])
        return browser

    @classmethod
    def wait(cls):
        here = re.search(r'data-here="([^"]+)"', cls.page).group(1)
        for _ in range(LOCK // 10 + 1):
            time.sleep(10)
            for browser in (cls.left, cls.half, cls.taken_over):  # pages that follow the record by themselves
                browser.get("/loads", headers={"Sec-Fetch-Dest": "empty"})
            cls.used.post("/sign-in/here", {"token": here}.items())

    def open_load(self, browser, page):
        fields = {"sterilizer": "S1", "program": office.PROGRAM_OF_LOADS, "purpose": "process"}
        return browser.post("/loads/open", (browser.form(page, "/loads/open") | fields).items())

    def test_whoever_left_is_not_acted_for_whatever_the_page_went_on_asking(self):
        refused = self.open_load(self.left, self.forms[self.left])
        self.assertEqual((401, "sign-in-needed"), (refused.status, refused.json["error"]))
        self.assertNotIn("Jonas Tellow", self.left.page("/"))
        self.assertEqual("", self.left.get("/sign-in/here").json["who"])
        self.assertEqual(200, self.left.get("/check").status)  # looking is anybody's

    def test_nobody_is_switched_back_to_without_a_pin_or_a_badge(self):
        self.assertNotIn("Just working here", self.taken_over.page("/sign-in"))
        page = self.taken_over.page("/sign-in")
        token = self.taken_over.form(page, "/sign-in/switch") if "/sign-in/switch" in page else {}
        answer = self.taken_over.post("/sign-in/switch", (token | {"operator": "MB"}).items())
        self.assertGreaterEqual(answer.status, 400)
        self.assertEqual("", self.taken_over.get("/sign-in/here").json["who"])

    def test_the_one_who_left_goes_on_with_the_half_filled_form(self):
        browser, page = self.half, self.forms[self.half]
        cookie = browser.cookies["loadlight-browser"]
        token = re.search(r'data-unlock="([^"]+)"', page).group(1)
        unlock = {"token": token, "operator": "JT"}
        wrong = browser.post("/sign-in/unlock", (unlock | {"pin": "000000"}).items())
        self.assertEqual("pin-wrong", wrong.json["error"])
        other = browser.post("/sign-in/unlock", {"token": token, "operator": "MB", "pin": self.pins["MB"]}.items())
        self.assertEqual("sign-in-needed", other.json["error"])
        self.assertEqual("", browser.get("/sign-in/here").json["who"])
        back = browser.post("/sign-in/unlock", (unlock | {"pin": self.pins["JT"]}).items())
        self.assertEqual((200, "JT"), (back.status, back.json["who"]))
        self.assertEqual(cookie, browser.cookies["loadlight-browser"])
        sent = self.open_load(browser, page)
        self.assertEqual(200, sent.status, sent.text)

    def test_a_browser_in_use_stays_open(self):
        self.assertEqual("JT", self.used.get("/sign-in/here").json["who"])
        self.assertIn("Jonas Tellow", self.used.page("/"))

    def test_the_page_knows_when_it_is_to_be_locked(self):
        left = int(re.search(r'<dialog id="lock"[^>]*data-left="(\d+)"', self.page).group(1))
        self.assertTrue(0 < left <= LOCK, left)
        self.assertIn("/static/idle_lock.js", self.page)
        self.assertEqual(200, self.used.get("/static/idle_lock.js").status)
        self.assertNotIn('id="lock"', self.station.browser().page("/loads"))


if __name__ == "__main__":
    office.main()
