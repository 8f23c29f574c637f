"""Loads at the station: from open to the decision as by the commands, and every refusal in words."""

import datetime
import hashlib
import hmac
import html
import json
import pathlib
import re
import subprocess
import tempfile
import threading
import time
import unittest
import urllib.parse

import office
import station

TYPED = {"low": "132,6", "high": "134.1", "minutes": "4.5", "pressure": "293", "drying": "22"}
INDICATOR = {"place": "external", "type": "1", "lot": "CI-0417", "expires": "2099-12-31", "result": "pass"}
BASE32 = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
MARKUP = '<img src=x onerror="alert(1)">\'&amp;'
SAMPLES = office.SOURCE / "samples" / "cycles"


class Loads(unittest.TestCase):
    """One office; every test runs loads of its own."""

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(cls.folder.cleanup)
        cls.office = office.Office(pathlib.Path(cls.folder.name) / "office").fill()
        cls.office.test_of_the_day()
        cls.pins = {code: cls.office.ok("operator", "pin", code, operator="MB")[0]["pin"] for code in ("MB", "JT")}
        cls.badge = cls.badge_of("JT")
        cls.station = station.Station(cls.office.folder)
        cls.addClassCleanup(cls.station.stop)
        cls.browser = cls.station.browser()
        cls.browser.sign_in("JT", cls.pins["JT"])

    @classmethod
    def badge_of(cls, code):
        """What the symbol on a badge says: signed with the office's newest key (core/payload.h)."""
        key = bytes.fromhex(json.loads((cls.office.folder / "keys.json").read_text())["keys"][-1]["key"])
        signed = f"LLO1.H{code}.Z"
        bits = int.from_bytes(hmac.new(key, signed.encode(), hashlib.sha256).digest(), "big") >> (256 - 65)
        return signed + "".join(BASE32[bits >> (5 * place) & 31] for place in range(12, -1, -1))

    # ---- steps as a page takes them ----
    def post(self, action, fields=(), page=None, browser=None):
        browser = browser or self.browser
        load = re.match(r"/loads/[^/]+", action).group(0)
        hidden = browser.form(page or (load if load != "/loads/open" else "/loads"), action)
        return browser.post(action, (hidden | dict(fields)).items())

    def done(self, *args, **more):
        answer = self.post(*args, **more)
        self.assertEqual(200, answer.status, answer.text)
        return answer.json

    def refused(self, error, *args, **more):
        answer = self.post(*args, **more)
        self.assertEqual(error, answer.json.get("error"), answer.text)
        self.assertGreaterEqual(answer.status, 400)
        self.assertTrue(answer.json["text"] and answer.json["action"], answer.text)
        self.assertNotIn("loadlight ", answer.json["text"] + answer.json["action"])
        return answer.json

    def open_load(self, program=office.PROGRAM_OF_LOADS, purpose="process", **more):
        go = self.done("/loads/open", {"sterilizer": "S1", "program": program, "purpose": purpose, **more})["go"]
        return re.match(r"/loads/(S1-\d+)", go).group(1)

    def filled(self, count=1, contents="EXAM"):
        load = self.open_load()
        labels = self.office.labels(load, count, contents)
        for label in labels:
            answer = self.done(f"/loads/{load}/add", {"text": label["payload"]})
            self.assertEqual(["taken"], [each["how"] for each in answer["results"]])
        return load, labels

    def finished(self, count=1, contents="EXAM"):
        load, labels = self.filled(count, contents)
        self.done(f"/loads/{load}/start", {"count": count})
        self.done(f"/loads/{load}/finish", {"counter": ""})
        return load, labels

    def evident(self, count=1, contents="EXAM", typed=TYPED):
        load, labels = self.finished(count, contents)
        self.done(f"/loads/{load}/readings", typed)
        self.done(f"/loads/{load}/indicator", INDICATOR)
        return load, labels

    def shown(self, load):
        return self.office.ok("load", "show", load)[0]

    def state(self, load):
        return self.shown(load)["state"]

    # ---- the main path ----
    def test_a_load_goes_its_way_as_by_the_commands(self):
        by_command, _ = self.office.released(2)
        by_page, labels = self.evident(2)
        self.assertEqual("finished", self.state(by_page))
        go = self.done(f"/loads/{by_page}/release")["go"]
        self.assertIn("done=load-released", go)
        mine, theirs = self.shown(by_page), self.shown(by_command)
        for line in (mine, theirs):
            line["packages"] = [{**package, "package": "?"} for package in line["packages"]]
            line["load"] = "?"
        self.assertEqual(theirs, mine)
        page = self.browser.page(go)
        self.assertIn(f"Load {by_page} is released.", page)
        self.assertEqual("clear", self.office.ok("check", "--text", labels[0]["payload"])[0]["outcome"])
        self.assertEqual(0, self.office.run("ledger", "verify", operator=None).status)

    def test_each_state_offers_its_next_step(self):
        load, _ = self.filled()
        self.assertIn(f'action="/loads/{load}/start"', self.browser.page(f"/loads/{load}"))
        self.done(f"/loads/{load}/start", {"count": 1})
        page = self.browser.page(f"/loads/{load}")
        self.assertIn(f'action="/loads/{load}/finish"', page)
        self.assertNotIn(f'action="/loads/{load}/start"', page)
        self.done(f"/loads/{load}/finish", {"counter": ""})
        self.assertIn('data-next="readings"', self.browser.page(f"/loads/{load}"))
        self.done(f"/loads/{load}/readings", TYPED)
        self.assertIn('data-next="indicators"', self.browser.page(f"/loads/{load}"))
        self.done(f"/loads/{load}/indicator", INDICATOR)
        page = self.browser.page(f"/loads/{load}")
        self.assertIn('data-next="decision"', page)
        self.assertIn("Release the load", page)
        self.assertEqual(4, len(re.findall(r"<li class=\"[^\"]*\"[^>]*><span>", page)))

    def test_what_was_asked_and_found_stands_line_by_line(self):
        load, _ = self.evident()
        page = html.unescape(self.browser.page(f"/loads/{load}"))
        for line in self.shown(load)["criteria"]:
            self.assertIn(line["source"], page)
        self.assertIn("4.5 min", page)
        self.assertIn("at least 132 °C", page)

    def test_a_test_of_the_sterilizer_is_run_and_decided(self):
        load = self.open_load(purpose="bowie-dick")
        self.done(f"/loads/{load}/start", {"count": 0})
        self.done(f"/loads/{load}/finish", {"counter": ""})
        self.assertIn('data-next="indicators"', self.browser.page(f"/loads/{load}"))
        self.done(f"/loads/{load}/indicator", {**INDICATOR, "place": "pcd", "type": "2"})
        self.done(f"/loads/{load}/release")
        self.assertEqual("released", self.state(load))
        leak = self.open_load(purpose="leak")
        self.done(f"/loads/{leak}/start", {"count": 0})
        self.done(f"/loads/{leak}/finish", {"counter": ""})
        self.done(f"/loads/{leak}/leak", {"rate": "0,1", "result": "pass"})
        self.done(f"/loads/{leak}/release")
        self.assertEqual("released", self.state(leak))

    # ---- what goes in ----
    def test_a_doubled_and_a_foreign_label_are_told_and_nothing_moves(self):
        load, labels = self.filled()
        again = self.done(f"/loads/{load}/add", {"text": labels[0]["payload"]})["results"][0]
        self.assertEqual("doubled", again["how"])
        other = self.open_load()
        foreign = self.done(f"/loads/{other}/add", {"text": labels[0]["payload"]})["results"][0]
        self.assertEqual(("refused", "labels-name-another"), (foreign["how"], foreign["error"]))
        self.assertIn(labels[0]["package"], foreign["replace"])
        self.assertTrue(foreign["items"] and load in foreign["items"][0])
        for text in ("garbage", "", labels[0]["payload"][:-1] + "0"):
            with self.subTest(text):
                self.assertEqual("refused", self.done(f"/loads/{other}/add", {"text": text})["results"][0]["how"])
        self.assertEqual([], self.shown(other)["packages"])

    def frame(self, load, pdf, page=1):
        """Sends a printed page as a camera's frame; what was seen in it."""
        jpeg = subprocess.run(["pdftoppm", "-r", "150", "-f", str(page), "-singlefile", "-jpeg", pdf],
                              capture_output=True, check=True).stdout
        token = re.search(r'data-token="([^"]*)"', self.browser.page(f"/loads/{load}")).group(1)
        answer = self.browser.ask("POST", f"/loads/{load}/frame?camera=c{self.id()}", jpeg,
                                  {"Accept": "application/json", "X-Loadlight-Token": token,
                                   "Content-Type": "image/jpeg"})
        self.assertEqual(200, answer.status, answer.text)
        return answer.json["symbols"]

    def test_labels_past_the_camera_go_in_once(self):
        load = self.open_load()
        pdf = self.office.pdf()
        labels = self.office.labels(load, 1, "EXAM", pdf)
        first = self.frame(load, pdf)
        self.assertEqual([("taken", True)], [(each["how"], each["is_new"]) for each in first])
        self.assertEqual(4, len(first[0]["corners"]))
        # Still in view: the same answer, nothing new and nothing added.
        self.assertEqual([("taken", False)], [(each["how"], each["is_new"]) for each in self.frame(load, pdf)])
        time.sleep(2.2)  # out of view for longer than LoadScans::kGoneAfter
        self.assertEqual([("doubled", True)], [(each["how"], each["is_new"]) for each in self.frame(load, pdf)])
        other = self.open_load()
        foreign = self.frame(other, pdf)
        self.assertEqual([("refused", "labels-name-another")], [(each["how"], each["error"]) for each in foreign])
        self.assertEqual(["loaded"], [each["state"] for each in self.shown(load)["packages"]])
        self.assertEqual(labels[0]["package"], self.shown(load)["packages"][0]["package"])
        self.assertEqual(1, self.events_of("packages-added", load))

    def test_packages_come_out_and_trays_go_in(self):
        load, labels = self.filled(2)
        self.done(f"/loads/{load}/remove", {"package": labels[0]["package"]})
        self.done(f"/loads/{load}/loose", {"contents": "TIPS", "count": "3"})
        self.refused("code-unknown", f"/loads/{load}/loose", {"contents": MARKUP, "count": "3"})
        self.refused("bad-value", f"/loads/{load}/loose", {"contents": "TIPS", "count": "many"})
        shown = self.shown(load)
        self.assertEqual([{"contents": "TIPS", "count": 3}], shown["unwrapped"])
        states = {each["package"]: each["state"] for each in shown["packages"]}
        self.assertEqual(("labelled", "loaded"), tuple(states[label["package"]] for label in labels))

    def test_what_was_withdrawn_before_the_start_is_not_counted(self):
        load, labels = self.filled(2)
        self.office.ok("withdraw", labels[0]["package"], "--why", "dropped")
        self.assertEqual("1", self.browser.form(f"/loads/{load}", f"/loads/{load}/start")["count"])
        self.done(f"/loads/{load}/start")
        self.assertEqual("running", self.state(load))

    def test_a_label_of_another_day_is_shown_with_its_replacement(self):
        load = self.open_load()
        day = datetime.datetime.now(datetime.timezone.utc).date() + datetime.timedelta(days=2)
        label = self.office.ok("label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed",
                               "--date", day, "--out", self.office.pdf())[0]
        page = self.browser.page(f"/loads/{load}")
        self.assertIn(f"Its label names {day.day} {day:%b} {day.year}", page)
        self.assertIn(f'href="/pack/packages/{label["package"]}/replace?load={load}"', page)
        answer = self.done(f"/loads/{load}/add", {"text": label["payload"]})["results"][0]
        self.assertEqual(("refused", "labels-name-another"), (answer["how"], answer["error"]))

    def test_what_was_not_counted_is_not_started(self):
        load, labels = self.filled()
        self.refused("bad-value", f"/loads/{load}/start", {"count": 2})
        empty = self.open_load()
        page = self.browser.page(f"/loads/{empty}")
        self.assertNotIn(f'action="/loads/{empty}/start"', page)
        self.assertEqual("open", self.state(load))

    # ---- refusals ----
    def test_a_second_start_is_refused_in_words(self):
        load, _ = self.filled()
        page = self.browser.page(f"/loads/{load}")
        other_tab = self.browser.page(f"/loads/{load}")
        self.done(f"/loads/{load}/start", {"count": 1}, page=page)
        # The same form once more does nothing more; another tab's form is refused.
        self.assertIn("load-started", self.done(f"/loads/{load}/start", {"count": 1}, page=page)["go"])
        failure = self.refused("load-wrong-state", f"/loads/{load}/start", {"count": 1}, page=other_tab)
        self.assertIn("running", failure["text"])
        self.assertEqual(1, self.events_of("load-started", load))

    def events_of(self, kind, load):
        text = [json.dumps(line) for line in self.office.events()]
        return sum(f'"{kind}"' in line and f'"{load}"' in line for line in text)

    def test_two_tabs_release_one_load_and_one_is_told(self):
        load, _ = self.evident()
        pages = [self.browser.page(f"/loads/{load}") for _ in range(2)]
        answers = [None, None]

        def release(index):
            answers[index] = self.post(f"/loads/{load}/release", page=pages[index])

        threads = [threading.Thread(target=release, args=(i,)) for i in range(2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual([200, 409], sorted(answer.status for answer in answers))
        loser = next(answer for answer in answers if answer.status == 409)
        self.assertEqual("load-wrong-state", loser.json["error"])
        self.assertIn("released", loser.json["text"])
        self.assertEqual(1, self.events_of("load-released", load))

    def test_a_load_without_evidence_is_not_released_and_every_reason_told(self):
        load, _ = self.finished()
        answer = self.refused("not-released", f"/loads/{load}/release")
        wanted = self.shown(load)["reasons"]
        self.assertEqual(len(wanted), len(answer["items"]))
        for reason in wanted:
            self.assertTrue(any(reason["text"] in item for item in answer["items"]), reason)
        self.assertEqual("finished", self.state(load))

    def test_a_short_exposure_fails_the_load_for_good(self):
        load, labels = self.evident(typed={**TYPED, "minutes": "1.5"})
        page = self.browser.page(f"/loads/{load}")
        self.assertIn("Record that the load failed", page)
        self.assertNotIn("Release the load", page)
        self.done(f"/loads/{load}/release")
        self.assertEqual("failed", self.state(load))
        self.assertIn('data-state="failed"', self.browser.page(f"/loads/{load}"))
        self.assertEqual("do-not-use", self.office.run("check", "--text", labels[0]["payload"]).lines[0]["outcome"])

    def test_an_implant_waits_and_an_emergency_takes_two(self):
        load, labels = self.evident(contents="IMPL")
        self.done(f"/loads/{load}/release")
        self.assertEqual("quarantined", self.state(load))
        release = f"/loads/{load}/release"
        self.refused("reason-missing", release, {"how": "emergency", "emergency": " ", "second": "MB"})
        self.refused("reason-missing", release, {"how": "emergency", "emergency": "trauma", "second": ""})
        self.refused("operator-not-current", release, {"how": "emergency", "emergency": "trauma", "second": "JT"})
        self.assertEqual("quarantined", self.state(load))
        named = {"how": "emergency", "emergency": MARKUP, "second": "MB"}
        self.refused("pin-wrong", release, named)  # a name alone is not a second person
        self.refused("pin-wrong", release, named | {"second-pin": self.pins["JT"]})
        self.assertEqual("quarantined", self.state(load))
        self.done(release, named | {"second-pin": self.pins["MB"]})
        shown = self.shown(load)
        self.assertEqual("released", shown["state"])
        self.assertIn("released-as-emergency", shown["notes"])
        self.assert_escaped(self.browser.page(f"/loads/{load}"))

    def test_where_a_lead_releases_the_page_says_so_and_offers_others_nothing(self):
        load, _ = self.evident()
        waiting, _ = self.evident(contents="IMPL")
        rules = ("release-by", "emergency-by")
        self.assertIn("Release the load", self.browser.page(f"/loads/{load}"))
        for name in rules:
            self.office.ok("profile", "set", name, "lead", "--why", "for a while", operator="MB")
        try:
            page = self.browser.page(f"/loads/{load}")
            self.assertIn("only a lead releases a load", page)
            self.assertNotIn("Release the load</button>", page)
            self.assertNotIn('id="emergency"', self.browser.page(f"/loads/{waiting}"))
            self.refused("release-needs-lead", f"/loads/{load}/release")
            self.assertEqual("finished", self.state(load))
            self.office.ok("profile", "set", "release-by", "anyone", "--why", "again", operator="MB")
            page = self.browser.page(f"/loads/{waiting}")
            self.assertIn("one of the two people must be a lead", page)
        finally:
            for name in rules:
                self.office.ok("profile", "set", name, "anyone", "--why", "again", operator="MB")
        self.done(f"/loads/{load}/release")

    def test_a_biological_result_releases_an_implant_load(self):
        load, _ = self.evident(contents="IMPL")
        lots = {"lot": "BI-1", "control-lot": "BI-1"}
        self.done(f"/loads/{load}/biological/place", {**lots, "reader": "office", "service": "", "hours": ""})
        run = self.shown(load)["biological_runs"][0]["number"]
        self.done(f"/loads/{load}/biological/move", {"move": f"incubated {run}"})
        for move in ("incubated", "incubated x", "eaten 1", ""):
            self.refused("bad-value", f"/loads/{load}/biological/move", {"move": move})
        self.refused("indicator-unknown", f"/loads/{load}/biological/move", {"move": "sent 9999"})
        self.done(f"/loads/{load}/release")
        self.done(f"/loads/{load}/biological", {**lots, "test": "no-growth", "control": "growth", "report": MARKUP})
        self.assert_escaped(self.browser.page(f"/loads/{load}"))
        self.done(f"/loads/{load}/release")
        self.assertEqual("released", self.state(load))

    def test_a_broken_off_load_says_why_and_nothing_markup(self):
        load, _ = self.filled()
        self.done(f"/loads/{load}/start", {"count": 1})
        self.refused("reason-missing", f"/loads/{load}/finish", {"how": "aborted", "aborted": "  ", "counter": ""})
        self.refused("bad-value", f"/loads/{load}/finish", {"how": "finished", "counter": "12x"})
        self.done(f"/loads/{load}/finish", {"how": "aborted", "aborted": MARKUP, "counter": ""})
        self.assertEqual("aborted", self.state(load))
        page = self.browser.page(f"/loads/{load}")
        self.assert_escaped(page)
        self.assertNotIn(f'action="/loads/{load}/release"', page)

    def test_a_release_is_taken_back_with_a_reason(self):
        load, _ = self.evident()
        self.done(f"/loads/{load}/release")
        self.refused("reason-missing", f"/loads/{load}/revoke", {"why": ""})
        self.done(f"/loads/{load}/revoke", {"why": MARKUP})
        self.assertEqual("revoked", self.state(load))
        self.done(f"/loads/{load}/recall", {"why": MARKUP})
        self.assertEqual("recalled", self.state(load))
        self.assert_escaped(self.browser.page(f"/loads/{load}"))

    def assert_escaped(self, page):
        self.assertNotIn("<img src=x", page)
        self.assertNotIn('onerror="alert', page)

    # ---- who may ----
    def test_nobody_signed_in_changes_nothing(self):
        load, _ = self.evident()
        stranger = self.station.browser()
        page = stranger.page(f"/loads/{load}")
        for action, fields in (("release", {}), ("readings", TYPED), ("indicator", INDICATOR)):
            with self.subTest(action):
                answer = stranger.send(page, f"/loads/{load}/{action}", fields)
                self.assertEqual((401, "sign-in-needed"), (answer.status, answer.json["error"]))
        answer = stranger.ask("POST", f"/loads/{load}/log?mapping=plain-seconds&file=x", b"x",
                              {"Accept": "application/json"})
        self.assertEqual(401, answer.status)
        self.assertEqual("finished", self.state(load))

    def test_a_badge_fills_a_load_and_does_not_release_it(self):
        guest = self.station.browser()
        hidden = guest.form("/sign-in", "/sign-in/badge")
        answer = guest.post("/sign-in/badge", (hidden | {"badge": self.badge}).items())
        self.assertEqual(200, answer.status, answer.text)
        load, _ = self.evident()
        self.done(f"/loads/{load}/indicator", {**INDICATOR, "lot": "CI-2"}, browser=guest)
        answer = self.post(f"/loads/{load}/release", browser=guest)
        self.assertEqual((403, "pin-needed"), (answer.status, answer.json["error"]))
        self.assertEqual("finished", self.state(load))
        guest.sign_in("MB", self.pins["MB"])
        self.done(f"/loads/{load}/release", browser=guest)

    def test_what_is_no_load_is_told(self):
        for path, status in (("/loads/S1-99999", 409), ("/loads/x", 400), ("/loads/S1-0", 400),
                             ("/loads/S1-99999/plot.svg", 409), ("/loads/S1-99999/record.pdf", 409)):
            with self.subTest(path):
                self.assertEqual(status, self.browser.get(path).status)
        self.refused("bad-value", "/loads/open", {"sterilizer": "S1", "program": "steam-134", "purpose": MARKUP})
        self.refused("program-unknown", "/loads/open", {"sterilizer": "S1", "program": MARKUP, "purpose": "process"})

    # ---- logs and papers ----
    def send_log(self, load, body, name="cycle.csv", mapping="plain-seconds", why=""):
        page = self.browser.page(f"/loads/{load}")
        token = re.search(r'data-log-token="([^"]*)"', page).group(1)
        query = urllib.parse.urlencode({"file": name, "mapping": mapping, "why": why})
        return self.browser.ask("POST", f"/loads/{load}/log?{query}", body,
                                {"Accept": "application/json", "X-Loadlight-Token": token,
                                 "Content-Type": "application/octet-stream"})

    def test_a_cycle_log_is_read_drawn_and_judged(self):
        load, _ = self.finished()
        # The hotter cycle of 134 degrees lies above the program's 132: enough exposure and drying.
        answer = self.send_log(load, (SAMPLES / "good-prevac-134.csv").read_bytes(), "C:\\logs\\" + MARKUP + ".csv")
        self.assertEqual(200, answer.status, answer.text)
        shown = self.shown(load)
        self.assertIsNotNone(shown["f0"])
        page = self.browser.page(f"/loads/{load}")
        self.assert_escaped(page)
        image = re.search(r'<img src="(/loads/[^"]*plot.svg[^"]*)" alt="([^"]*)"', page)
        for part in (r"exposure \d", r"between [\d.]+ and [\d.]+ °C", r"over [\d.]+ minutes"):
            self.assertRegex(html.unescape(image.group(2)), part)
        drawing = self.browser.get(html.unescape(image.group(1)))
        self.assertEqual((200, "image/svg+xml"), (drawing.status, drawing.headers["content-type"]))
        self.assertIn("<svg", drawing.text)
        again = self.send_log(load, (SAMPLES / "good-prevac-134.csv").read_bytes())
        self.assertEqual((409, "result-differs"), (again.status, again.json["error"]))
        self.assertEqual(200, self.send_log(load, (SAMPLES / "good-prevac-134.csv").read_bytes(),
                                            why="read again").status)

    def test_a_damaged_log_is_told_line_by_line_and_nothing_is_kept(self):
        load, _ = self.finished()
        good = (SAMPLES / "good-prevac-134.csv").read_bytes()
        for name, body in (("damaged", good[:4000] + b"\xff\xfe\x00<script>" + good[4000:]),
                           ("cells", good.replace(b"24.37", b"<b>hot</b>", 1)), ("empty", b""),
                           ("short", good[:60])):
            with self.subTest(name):
                answer = self.send_log(load, body)
                self.assertIn(answer.json["error"], ("bad-cycle-log", "bad-encoding"), answer.text)
                self.assertTrue(answer.json["text"] and answer.json["action"])
        for mapping in ("no-such", "../words/en", "/etc/passwd", ""):
            with self.subTest(mapping):
                self.assertEqual("mapping-unknown", self.send_log(load, good, mapping=mapping).json["error"])
        self.assertIsNone(self.shown(load)["f0"])
        self.assertNotIn("plot.svg", self.browser.page(f"/loads/{load}"))
        self.assertEqual(409, self.browser.get(f"/loads/{load}/plot.svg").status)

    def test_the_record_is_a_pdf(self):
        load, _ = self.evident()
        answer = self.browser.get(f"/loads/{load}/record.pdf")
        self.assertEqual((200, "application/pdf"), (answer.status, answer.headers["content-type"]))
        self.assertTrue(answer.body.startswith(b"%PDF"))

    def test_values_that_cannot_be_are_refused(self):
        load, _ = self.finished()
        for field in ("low", "high", "minutes", "pressure", "drying"):
            for given in ("hot", "nan", "1e999", MARKUP):
                with self.subTest(field=field, given=given):
                    self.refused("bad-value", f"/loads/{load}/readings", {**TYPED, field: given})
        for field, given, error in (("type", "9", None), ("expires", "soon", "bad-date"),
                                    ("result", "maybe", "bad-value"), ("place", "roof", "bad-value")):
            with self.subTest(field=field):
                answer = self.post(f"/loads/{load}/indicator", {**INDICATOR, field: given})
                self.assertGreaterEqual(answer.status, 400, answer.text)
                if error:
                    self.assertEqual(error, answer.json["error"])
        self.assertIsNone(self.shown(load)["readings"])

    # ---- the list ----
    def test_the_list_says_of_every_sterilizer_where_it_stands(self):
        load, _ = self.filled()
        page = self.browser.page("/loads")
        self.assertIn(f'href="/loads/{load}"', page)
        self.assertIn("Pump unit", page)
        self.office.ok("sterilizer", "out", "N1", "--why", MARKUP, operator="MB")
        page = self.browser.page("/loads")
        self.assertIn("Out of service", page)
        self.assert_escaped(page)


if __name__ == "__main__":
    office.main()
