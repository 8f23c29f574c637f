"""Opening, withdrawing and putting away at the station: as the commands do it, and no other way in."""

import concurrent.futures
import html
import pathlib
import re
import tempfile
import unittest

import office
import picture
import station

YES = {"dry": "yes", "intact": "yes", "indicator": "changed"}
MARKUP = "<img src=x onerror=alert(1)>"


class Chair(unittest.TestCase):
    """One office for all: each test takes packages of its own from a released load."""

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office").fill()
        cls.load, labels = cls.office.released(17)
        cls.packages = [label["package"] for label in labels]
        cls.labels = {label["package"]: label["payload"] for label in labels}
        cls.held_load, held = cls.office.running(2)
        cls.held = [label["package"] for label in held]
        cls.pins = {code: cls.office.ok("operator", "pin", code, operator="MB")[0]["pin"] for code in ("JT", "MB")}
        cls.station = station.Station(cls.office.folder)

    @classmethod
    def tearDownClass(cls):
        cls.station.stop()
        cls.folder.cleanup()

    def browser(self, code="JT"):
        browser = self.station.browser()
        browser.sign_in(code, self.pins[code])
        return browser

    def open(self, browser, package, **fields):
        path = f"/packages/{package}/open"
        return browser.send(path, path, YES | fields)

    def outcome(self, package):
        return self.office.run("check", "--id", package).lines[0]["outcome"]

    def reasons(self, package):
        return office.codes(self.office.run("check", "--id", package).lines[0])

    def events(self, kind, subject):
        return [e for e in self.office.events() if e["kind"] == kind and e["subject"] == subject]

    def test_a_clear_package_is_opened_for_its_visit_and_its_indicator_read(self):
        browser, package = self.browser(), self.packages[0]
        answer = self.open(browser, package, visit="V-1039")
        self.assertEqual(200, answer.status, answer.text)
        self.assertTrue(answer.json["go"].startswith(f"/packages/{package}/opened?done=opened"), answer.json)
        event = self.events("package-opened", package)[0]
        self.assertEqual({"dry": "yes", "intact": "yes", "indicator": "changed"}, event["body"]["details"])
        self.assertEqual("JT", event["operator"])
        row = event["body"]["records"][0]["row"]
        self.assertEqual(("opened", "V-1039"), (row["state"], row["visit"]))
        path = f"/packages/{package}/opened"
        read = browser.send(path, path, {"internal": "changed"})
        self.assertEqual(200, read.status, read.text)
        self.assertEqual("changed", self.events("internal-indicator-read", package)[0]["body"]["details"]["look"])
        self.assertIn("V-1039", browser.page(f"/packages/{package}"))
        found = browser.send("/records", "/records", {"search": "V-1039"}, as_script=False).text
        self.assertIn(f"/packages/{package}", found)

    def test_nothing_is_preselected_and_an_unanswered_question_opens_nothing(self):
        browser, package = self.browser(), self.packages[1]
        path = f"/packages/{package}/open"
        self.assertNotIn("checked", re.sub(r"<svg.*?</svg>", "", browser.page(path)))
        for missing in YES:
            answer = browser.send(path, path, {k: v for k, v in YES.items() if k != missing})
            self.assertEqual((400, "bad-value"), (answer.status, answer.json["error"]))
        answer = browser.send(path, path, YES | {"dry": "maybe"})
        self.assertEqual(400, answer.status)
        self.assertEqual("clear", self.outcome(package))

    def test_a_no_withdraws_instead_and_says_so(self):
        browser = self.browser()
        for number, no in enumerate(({"dry": "no"}, {"intact": "no"}, {"indicator": "unchanged"})):
            package = self.packages[2 + number]
            with self.subTest(no):
                answer = self.open(browser, package, **no)
                self.assertIn("done=withdrawn-instead", answer.json["go"])
                self.assertIn("was withdrawn", browser.page(answer.json["go"]))
                self.assertIn("withdrawn", self.reasons(package))
                self.assertFalse(self.events("package-opened", package))

    def test_what_is_not_clear_is_refused_with_all_its_reasons(self):
        browser, package = self.browser(), self.held[0]
        answer = self.open(browser, package)
        self.assertEqual((409, "not-openable"), (answer.status, answer.json["error"]))
        wanted = self.office.run("check", "--id", package).lines[0]
        self.assertNotEqual("clear", wanted["outcome"])
        for reason in wanted["reasons"]:
            self.assertIn(reason["text"], answer.json["items"])
            self.assertIn(reason["action"], answer.json["items"])
        refused = [e for e in self.events("package-checked", package) if e["body"]["details"].get("at") == "open"]
        self.assertTrue(refused)

    def test_an_opening_that_is_a_fact_is_recorded_late_with_its_reason(self):
        browser, package = self.browser(), self.held[1]
        answer = self.open(browser, package, already=MARKUP)
        self.assertIn("done=opened", answer.json["go"])
        self.assertEqual(MARKUP, self.events("package-opened", package)[0]["body"]["details"]["recorded-late"])
        page = browser.page(f"/packages/{package}")
        self.assertNotIn(MARKUP, page)
        self.assertIn(html.escape(MARKUP), page)

    def test_a_visit_reference_with_a_name_in_it_is_refused(self):
        browser, package = self.browser(), self.packages[5]
        for visit in ("SMITH", "John Smith", "Smith-1980", "1980.05.17", "V", "V-17 ", "ÄRZTIN-1", MARKUP, "V" * 17 + "1"):
            with self.subTest(visit):
                answer = self.open(browser, package, visit=visit)
                self.assertEqual((400, "bad-visit-reference"), (answer.status, answer.json["error"]))
                self.assertIn("digits", answer.json["action"])
        self.assertEqual("clear", self.outcome(package))
        self.assertIn("visit-hint", browser.page(f"/packages/{package}/open"))

    def test_a_form_sent_twice_opens_once(self):
        browser, package = self.browser(), self.packages[6]
        path = f"/packages/{package}/open"
        pairs = list(browser.form(path, path).items()) + list(YES.items())
        first, second = browser.post(path, pairs), browser.post(path, pairs)
        self.assertEqual((200, 200), (first.status, second.status))
        self.assertEqual(first.body, second.body)
        self.assertEqual(1, len(self.events("package-opened", package)))
        again = browser.post(path, [pair for pair in pairs if pair[0] != "once"] + [("once", "another")])
        self.assertEqual((409, "not-openable"), (again.status, again.json["error"]))

    def test_of_two_who_open_one_package_at_once_only_one_does(self):
        package = self.packages[16]
        path = f"/packages/{package}/open"
        browsers = [self.browser("JT"), self.browser("MB")]
        forms = [list((browser.form(path, path) | YES).items()) for browser in browsers]
        with concurrent.futures.ThreadPoolExecutor() as pool:
            answers = list(pool.map(lambda both: both[0].post(path, both[1]), zip(browsers, forms)))
        self.assertEqual([200, 409], sorted(answer.status for answer in answers))
        self.assertEqual(1, len(self.events("package-opened", package)))

    def test_an_unchanged_indicator_opens_an_incident_and_says_what_to_do_now(self):
        with tempfile.TemporaryDirectory() as folder:
            copy = self.office.copied_to(folder + "/office")
            package = self.packages[7]
            with station.Station(copy.folder) as served:
                browser = served.browser()
                browser.sign_in("JT", self.pins["JT"])
                self.open(browser, package)
                path = f"/packages/{package}/opened"
                answer = browser.send(path, path, {"internal": "unchanged"})
                self.assertEqual(200, answer.status, answer.text)
                page = browser.page(answer.json["go"])
                incident = copy.ok("incident", "list", operator=None)[0]["incident"]
                self.assertIn(f'href="/recall/{incident}"', page)
                self.assertIn("Do not use anything from this package", page)
                form = browser.page(path)
                self.assertNotIn('value="changed"', form)
                self.assertIn("incident-open", office.codes(copy.run("check", "--id", self.packages[8]).lines[0]))

    def test_withdrawing_asks_why_and_is_done_once(self):
        browser, package = self.browser(), self.packages[9]
        path = f"/packages/{package}/withdraw"
        self.assertEqual(400, browser.send(path, path, {}).status)
        self.assertEqual(400, browser.send(path, path, {"why": MARKUP}).status)
        form = browser.form(path, path)
        answer = browser.send(path, path, {"why": "dropped"})
        self.assertIn("done=withdrawn", answer.json["go"])
        self.assertEqual("dropped", self.events("package-withdrawn", package)[0]["body"]["details"]["why"])
        again = browser.post(path, list(form.items()) + [("why", "wet")])
        self.assertEqual((409, "package-wrong-state"), (again.status, again.json["error"]))

    def test_packages_are_put_away_in_one_change(self):
        browser = self.browser()
        chosen = [self.labels[self.packages[10]], self.packages[11]]
        for text in chosen:
            line = browser.send("/shelve", "/shelve/look", {"text": text}).json["line"]
            self.assertIn(line["package"], self.packages)
        answer = browser.send("/shelve", "/shelve", [("package", p) for p in chosen] + [("location", "CAB1")])
        self.assertEqual(200, answer.status, answer.text)
        event = self.events("packages-shelved", "CAB1")[-1]
        self.assertEqual(set(self.packages[10:12]), {record["row"]["id"] for record in event["body"]["records"]})
        self.assertIn("CAB1", browser.page(f"/packages/{self.packages[10]}"))

    def test_one_package_that_cannot_be_put_away_keeps_all_from_it(self):
        browser = self.browser()
        withdrawn = self.withdrawn_one()
        before = len(self.office.events())
        for wrong, error in ((withdrawn, "package-wrong-state"), (MARKUP, "bad-package-id"),
                             (self.packages[12], "bad-value")):
            pairs = [("package", self.packages[12]), ("package", wrong), ("location", "CAB1")]
            answer = browser.send("/shelve", "/shelve", pairs)
            self.assertEqual(error, answer.json["error"])
        answer = browser.send("/shelve", "/shelve", [("package", self.packages[12]), ("location", MARKUP)])
        self.assertEqual("code-unknown", answer.json["error"])
        self.assertEqual("bad-value", browser.send("/shelve", "/shelve", {"location": "CAB1"}).json["error"])
        self.assertEqual(before, len(self.office.events()))

    def withdrawn_one(self):
        package = self.packages[13]
        if self.outcome(package) == "clear":
            self.office.ok("withdraw", package, "--why", "torn")
        return package

    def test_a_camera_s_frame_tells_the_labels_in_it(self):
        browser = self.browser()
        pdf = self.office.pdf()
        printed = self.office.labels(self.office.open_load(), 2, "EXAM", pdf)
        frame = picture.pages_of(pdf)[0].save(pathlib.Path(self.folder.name) / "frame.png").read_bytes()
        token = re.search(r'data-token="([^"]+)"', browser.page("/shelve")).group(1)
        headers = {"Accept": "application/json", "Content-Type": "image/png", "X-Loadlight-Token": token}
        seen = browser.ask("POST", "/shelve/frame", frame, headers).json["texts"]
        self.assertIn(printed[0]["payload"], seen)
        self.assertEqual(503, browser.ask("POST", "/shelve/frame", b"no picture", headers).status)
        headers["X-Loadlight-Token"] = "x" * 26
        self.assertEqual(409, browser.ask("POST", "/shelve/frame", frame, headers).status)

    def test_a_shelf_tag_names_its_place_and_a_forged_one_does_not(self):
        browser = self.browser()
        answer = browser.send("/shelve", "/shelve/look", {"text": "LLS1.LCAB1.Z0000000000000"})
        self.assertEqual((409, "shelf-tag-not-authentic"), (answer.status, answer.json["error"]))

    def test_who_is_not_signed_in_changes_nothing(self):
        browser, package = self.station.browser(), self.packages[14]
        for path in (f"/packages/{package}/open", f"/packages/{package}/opened", f"/packages/{package}/withdraw",
                     "/shelve"):
            answer = browser.get(path)
            self.assertEqual(303, answer.status)
            self.assertTrue(answer.headers["location"].startswith("/sign-in?back="))
            answer = browser.post(path, (YES | {"why": "wet", "internal": "unchanged"}).items())
            self.assertEqual((401, "sign-in-needed"), (answer.status, answer.json["error"]))
        self.assertEqual("clear", self.outcome(package))

    def test_whoever_is_retired_is_signed_out_by_the_next_request(self):
        with tempfile.TemporaryDirectory() as folder:
            copy = self.office.copied_to(folder + "/office")
            package = self.packages[15]
            with station.Station(copy.folder) as served:
                browser = served.browser()
                browser.sign_in("JT", self.pins["JT"])
                path = f"/packages/{package}/open"
                form = browser.form(path, path)
                # Her last day counts to its end: it must have been yesterday.
                yesterday = office.datetime.date.today() - office.datetime.timedelta(days=1)
                copy.ok("operator", "retire", "JT", operator="MB", at=f"{yesterday} 08:00:00")
                answer = browser.post(path, list((form | YES).items()))
                self.assertEqual((401, "sign-in-needed"), (answer.status, answer.json["error"]))
                self.assertEqual("clear", copy.run("check", "--id", package, operator="MB").lines[0]["outcome"])
                self.assertEqual(303, browser.get(path).status)


if __name__ == "__main__":
    office.main()
