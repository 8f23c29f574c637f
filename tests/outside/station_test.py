"""The frame of the station: who may come in, what a form must carry, what nobody gets to see."""

import tempfile
import unittest

import office
import station


class Frame(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office")
        made = office.run("--office", cls.office.folder, "init", "--demo")
        assert made.status == 0, made.err
        cls.cases = {line["case"]: line for line in made.lines}
        cls.lead = next(row["code"] for row in office.run("--office", cls.office.folder, "operator", "list").lines
                        if row["role"] == "lead")
        cls.pin = office.run("--office", cls.office.folder, "--operator", cls.lead, "operator", "pin",
                             cls.lead).lines[0]["pin"]
        cls.station = station.Station(cls.office.folder)

    @classmethod
    def tearDownClass(cls):
        cls.station.stop()
        cls.folder.cleanup()

    def test_every_place_of_the_navigation_answers(self):
        page = self.station.browser().page("/")
        self.assertIn("<html lang=\"en\">", page)

    def test_a_pin_signs_in_and_a_wrong_one_does_not(self):
        browser = self.station.browser()
        wrong = browser.send("/sign-in", "/sign-in", {"operator": self.lead, "pin": "000000"})
        self.assertEqual((409, "pin-wrong"), (wrong.status, wrong.json["error"]))
        before = browser.cookies["loadlight-browser"]
        browser.sign_in(self.lead, self.pin)
        self.assertNotEqual(before, browser.cookies["loadlight-browser"])
        self.assertIn(f"<b aria-hidden=\"true\">{self.lead}</b>", browser.page("/"))

    def test_a_form_without_its_token_does_nothing(self):
        browser = self.station.browser()
        browser.page("/check")
        answer = browser.post("/check/text", {"text": self.cases["clear"]["package"], "token": "x" * 26}.items())
        self.assertEqual((409, "form-stale"), (answer.status, answer.json["error"]))

    def test_the_check_answers_as_the_command_does(self):
        browser = self.station.browser()
        for case in ("clear", "hold", "quarantined", "failed", "recalled", "forged", "opened", "withdrawn",
                     "never-loaded", "void", "expired"):
            with self.subTest(case):
                payload = self.cases[case]["payload"]
                wanted = office.run("--office", self.office.folder, "check", "--text", payload).lines[0]
                cards = browser.send("/check", "/check/text", {"text": payload}).json["cards"]
                self.assertEqual([wanted["outcome"]], [card["outcome"] for card in cards])
                for reason in wanted["reasons"]:
                    self.assertIn(reason["text"].replace("'", "&#39;"), cards[0]["html"])

    def test_a_port_that_another_station_has_is_refused(self):
        second = office.run("--office", self.office.folder, "serve", "--port", self.station.port)
        self.assertEqual((1, "station-unavailable"), (second.status, second.lines[-1].get("error")))

    def test_another_site_s_name_or_page_is_refused(self):
        browser = self.station.browser()
        self.assertEqual(409, browser.get("/", headers={"Host": "elsewhere.example:80"}).status)
        self.assertEqual(409, browser.ask("POST", "/sign-in", b"", {"Origin": "http://elsewhere.example"}).status)

    def test_nothing_outside_the_served_folder_is_given_out(self):
        browser = self.station.browser()
        for path in ("/static/..%2f..%2fwords%2fen.json", "/static/../../keys.json", "/static/%2e%2e/x.js",
                     "/static/.hidden.js", "/static/station.html", "/keys.json", "//etc/passwd"):
            with self.subTest(path):
                self.assertIn(browser.get(path).status, (400, 404))


if __name__ == "__main__":
    office.main()
