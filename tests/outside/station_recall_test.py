"""An incident carried to its end at the station, beside what the commands say of it."""

import csv
import io
import re

import incidents_test
import office
import station

SCRIPT = "<script>alert(1)</script>"


class Recall(incidents_test.Story):
    """The story's positive result, and a station in which the lead and JT work by PIN."""

    PROCEDURE = "conservative"

    def setUp(self):
        super().setUp()
        self.positive(self.PROCEDURE)
        self.pins = {who: self.office.ok("operator", "pin", who, operator="MB")[0]["pin"] for who in ("MB", "JT")}
        self.serve()

    def serve(self):
        """A station whose clock stands where the story's does; everybody signs in anew."""
        self.station = self.enterContext(station.Station(self.office.folder, at=self.office.at))
        self.lead_browser, self.helper_browser = self.station.browser(), self.station.browser()
        self.lead_browser.sign_in("MB", self.pins["MB"])
        self.helper_browser.sign_in("JT", self.pins["JT"])

    def send(self, action, browser=None, path="/recall/1", **fields):
        return (browser or self.lead_browser).send(path, f"/recall/1/{action}", fields)

    def step(self, step, finding, browser=None, **more):
        """Records a step by the form that the page has for it."""
        browser = browser or self.lead_browser
        page = browser.page("/recall/1")
        for form in re.findall(r"<form\b.*?</form>", page, re.DOTALL):
            if f'value="{step}"' in form and f'value="{finding}"' in form:
                fields = browser.form(form, "/recall/1/step")
                return browser.post("/recall/1/step", (fields | {"finding": finding} | more).items())
        raise AssertionError(f"no form for {step} {finding}")

    def accounted(self, package, how, browser=None, **more):
        return self.send("account", browser or self.helper_browser, f"/recall/1?package={package}",
                         **{"package": package, "as": how, **more})

    def events_of(self, kind):
        return [event for event in self.office.events() if event["kind"] == kind]


class Story(Recall):
    def test_the_list_and_the_page_say_what_the_command_says(self):
        browser = self.station.browser()
        self.assertIn('href="/recall/1"', browser.page("/recall"))
        page = browser.page("/recall/1?show=all")
        incident = self.incident()
        for load in incident["loads"]:
            self.assertIn(f'href="/loads/{load}"', page)
        for line in self.recall():
            self.assertIn(f'href="/packages/{line["package"]}"', page)
        states = re.findall(r'<li class="sheet step-([\w-]+)">', page)
        self.assertEqual(states, [step["state"] for step in incident["steps"] if step["state"] != "not-needed"])
        keeps_open = re.search(r'<ul class="left">(.*?)</ul>', page, re.DOTALL).group(1)
        self.assertEqual(keeps_open.count("<li>"), len(incident["to_close"]))
        clears = self.lead_browser.page("/recall/1/clears")
        self.assertEqual(clears.count('href="/packages/'), len(incident["earlier_clears"]))

    def test_from_the_positive_result_to_the_closed_incident(self):
        for step, finding in incidents_test.BEFORE_RETEST["conservative"]:
            answer = self.step(step, finding, note="seen to")
            self.assertEqual((answer.status, answer.json.get("go", "").split("&")[0]),
                             (200, "/recall/1?done=incident-step"), answer.text)
        self.assertEqual(self.incident()["recall"], "everything")
        for _ in range(incidents_test.RETESTS["conservative"]):
            self.retest(incidents_test.NEGATIVE)
        self.assertEqual(self.back().status, 0)
        open_ones = [line["package"] for line in self.recall() if line["disposition"] == "on-shelf"]
        self.assertTrue(open_ones)
        self.station.stop()
        self.serve()
        refused = self.send("close", note="")
        self.assertEqual((refused.status, refused.json["error"]), (409, "incident-unfinished"))
        self.assertEqual(len(refused.json["items"]), len(self.incident()["to_close"]))
        for package in open_ones[1:]:
            self.assertEqual(self.accounted(package, "withdrawn").status, 200)
        self.assertEqual(self.accounted(open_ones[0], "not-found", why="not on any shelf").status, 200)
        self.assertEqual({line["disposition"] for line in self.recall()}, {"withdrawn", "opened", "not-found"})
        kept = self.helper_browser.form("/recall/1", "/recall/1/account")  # of a page that stays open
        answer = self.send("close", note="all done")
        self.assertEqual((answer.status, answer.json["go"]), (200, "/recall/1?done=incident-closed&incident=1"), answer.text)
        self.assertEqual(self.incident()["state"], "closed")
        self.assertNotIn('action="/recall/1/', self.lead_browser.page("/recall/1"))
        late = self.helper_browser.post("/recall/1/account", (kept | {"package": open_ones[0], "as": "opened"}).items())
        self.assertEqual(late.json["error"], "incident-ended")
        self.office.ok("ledger", "verify", operator=None)


class Packages(Recall):
    def test_packages_are_listed_by_place_and_by_what_is_open(self):
        lines = self.recall()
        at_cabinet = [line["package"] for line in lines if line["location"] == "CAB1"]
        page = self.helper_browser.page("/recall/1?place=CAB1")
        listed = page[page.index('<ul class="suspects">'):]
        listed = listed[:listed.index("</ul>")]
        self.assertEqual(re.findall(r'class="id" href="/packages/(\w+)"', listed), at_cabinet)
        page = self.helper_browser.page("/recall/1")
        self.assertNotIn(f'href="/packages/{self.opened}">', page[page.index('<ul class="suspects">'):page.index('id="loads-head"')])

    def test_visits_are_for_those_who_are_signed_in(self):
        self.assertNotIn("V-1001", self.station.browser().page("/recall/1?show=all"))
        self.assertIn("V-1001", self.helper_browser.page("/recall/1?show=all"))

    def test_a_scan_shows_a_package_or_accounts_for_it(self):
        package = self.packages["before"][0]
        shown = self.send("account", self.helper_browser, **{"package": package, "as": "show"})
        self.assertEqual(shown.json["go"], f"/recall/1?package={package}")
        self.assertIn('id="found"', self.helper_browser.page(shown.json["go"]))
        scanned = self.send("account", self.helper_browser, **{"package": package, "as": "withdrawn", "scanned": "1"})
        self.assertEqual((scanned.status, scanned.json["package"]), (200, package))
        self.assertEqual(self.outcome(package)[0], "do-not-use")
        stranger = self.packages["negative"][0]
        for how in ("show", "withdrawn"):
            answer = self.send("account", self.helper_browser, **{"package": stranger, "as": how})
            self.assertEqual(answer.json["error"], "not-suspect")
        self.assertIn('class="failure"', self.helper_browser.page(f"/recall/1?package={stranger}"))

    def test_not_found_wants_a_reason_and_only_a_person_gives_it(self):
        package = self.packages["before"][0]
        self.assertEqual(self.accounted(package, "not-found").json["error"], "reason-missing")
        self.assertEqual(self.accounted(package, "vanished").json["error"], "bad-value")
        self.assertEqual(self.accounted(package, "not-found", why=SCRIPT).status, 200)
        page = self.helper_browser.page(f"/recall/1?package={package}")
        self.assertNotIn(SCRIPT, page)
        self.assertIn("&lt;script&gt;", page)

    def test_a_second_touch_accounts_once(self):
        package = self.packages["before"][0]
        fields = self.helper_browser.form(f"/recall/1?package={package}", "/recall/1/account")
        fields |= {"package": package, "as": "withdrawn"}
        answers = [self.helper_browser.post("/recall/1/account", fields.items()) for _ in range(2)]
        self.assertEqual([answer.json for answer in answers], [answers[0].json] * 2)
        self.assertEqual(len(self.events_of("package-accounted")), 1)

    def test_the_page_gone_back_to_is_one_of_the_incident(self):
        package = self.packages["before"][0]
        answer = self.accounted(package, "withdrawn", back="&place=CAB1")
        self.assertTrue(answer.json["go"].startswith("/recall/1?"), answer.json)
        again = self.accounted(package, "withdrawn", back="//elsewhere.example")
        self.assertTrue(again.json["go"].startswith("/recall/1?done="), again.json)


class Decisions(Recall):
    PROCEDURE = "dental-2003"  # which calls back nothing but implants of its own accord

    def test_nobody_decides_without_a_pin_and_only_a_lead_decides(self):
        nobody = self.station.browser()
        self.assertEqual(self.step("review-records", "fine", nobody).status, 401)
        self.assertEqual(self.accounted(self.packages["before"][0], "withdrawn", nobody).status, 401)
        for path in ("notice.pdf", "notice.csv", "clears"):
            self.assertEqual(nobody.get(f"/recall/1/{path}").status, 303)
        self.assertEqual(self.send("close", self.helper_browser).json["error"], "lead-required")
        loads = self.incident()["loads"]
        narrowed = self.send("narrow", self.helper_browser, first=loads[1], last=loads[-1], why="seen")
        self.assertEqual(narrowed.json["error"], "lead-required")
        self.assertEqual(self.events_of("incident-step-done"), [])

    def test_a_step_that_the_procedure_does_not_have_is_refused(self):
        fields = self.lead_browser.form("/recall/1", "/recall/1/step")
        for step, finding, error in ((SCRIPT, "fine", "bad-value"), ("review-records", SCRIPT, "bad-value"),
                                     ("retest", "fine", "step-not-due")):
            answer = self.lead_browser.post("/recall/1/step", (fields | {"step": step, "finding": finding,
                                                                         "once": step + finding}).items())
            self.assertEqual(answer.json["error"], error, answer.text)

    def test_a_narrower_range_says_why(self):
        loads = self.incident()["loads"]
        self.assertEqual(self.send("narrow", first=loads[1], last=loads[-1], why="").json["error"], "reason-missing")
        self.assertEqual(self.send("narrow", first=loads[-1], last=loads[1], why="x").json["error"], "bad-value")
        self.assertEqual(self.send("narrow", first="nothing", last=loads[1], why="x").json["error"], "bad-load-name")
        answer = self.send("narrow", first=loads[1], last=loads[-1], why=SCRIPT)
        self.assertEqual(answer.status, 200, answer.text)
        self.assertEqual(self.incident()["loads"], loads[1:])
        self.assertNotIn(SCRIPT, self.lead_browser.page("/recall/1"))

    def test_everything_or_one_load_is_called_back(self):
        load = self.loads["before"]
        answer = self.send("call-back", load=load, why="found on the way")
        self.assertEqual(answer.status, 200, answer.text)
        self.assertEqual(self.outcome(self.packages["before"][0])[0], "do-not-use")
        again = self.send("call-back", load=load, why="again")
        self.assertEqual(again.json["error"], "load-wrong-state")
        self.assertEqual(self.incident()["recall"], "implants")
        fields = self.lead_browser.form("/recall/1", "/recall/1/step")
        everything = fields | {"step": "recall-everything", "finding": "recalled"}
        self.assertEqual(self.lead_browser.post("/recall/1/step", everything.items()).status, 200)
        self.assertEqual(self.incident()["recall"], "everything")
        self.assertNotIn('class="button danger">Call back everything', self.lead_browser.page("/recall/1"))

    def test_the_notice_is_the_command_s(self):
        table, paper = self.folder / "recall.csv", self.folder / "recall.pdf"
        self.recall("--csv", table, "--pdf", paper)
        self.assertEqual(self.helper_browser.get("/recall/1/notice.csv").body, table.read_bytes())
        rows = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8"))))
        self.assertEqual([row["package"] for row in rows], [line["package"] for line in self.recall()])
        self.assertEqual(self.helper_browser.get("/recall/1/notice.pdf").body, paper.read_bytes())

    def test_an_incident_that_is_none_is_told(self):
        for path in ("/recall/2", "/recall/0", "/recall/x", "/recall/99999999999", "/recall/-1"):
            self.assertEqual(self.lead_browser.get(path).status, 409, path)


if __name__ == "__main__":
    office.main()
