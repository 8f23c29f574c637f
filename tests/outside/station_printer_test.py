"""Labels sent straight to a printer from the station: a real IPP printer, and ones that misbehave."""

import html
import re
import tempfile
import threading
import time
import unittest

import ipp_printer
import office
import station

ORDER = {"contents": "EXAM", "kind": "P", "count": "2", "packed": "yes"}


class Printers(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office").fill()
        cls.office.ok("stock", "add", "SHEET", "--name", "Laser sheets", "--method", "laser", "--dpi", "600",
                      "--rating", "trial", "--rating-note", "three cycles", operator="MB")
        cls.office.ok("stock", "add", "QUICK", "--name", "Quick", "--method", "direct-thermal", "--dpi", "203",
                      operator="MB")
        cls.pins = {code: cls.office.ok("operator", "pin", code, operator="MB")[0]["pin"] for code in ("MB", "JT")}
        cls.station = station.Station(cls.office.folder)

    @classmethod
    def tearDownClass(cls):
        cls.station.stop()
        cls.folder.cleanup()

    def setUp(self):
        self.browser = self.station.browser()
        self.browser.sign_in("MB", self.pins["MB"])

    def set_up(self, uri, name="Bench", stock="SHEET", browser=None):
        return (browser or self.browser).send("/pack/printers", "/pack/printers",
                                              {"name": name, "address": uri, "stock": stock})

    def send(self, name="Bench", **more):
        numbers = re.findall(r'name="load" value="S1-(\d+)"', self.browser.page("/pack"))
        order = ORDER | {"load": f"S1-{numbers[-1]}", "printer": name} | more
        return self.browser.send("/pack", "/pack/print", order)

    def runs(self):
        return self.browser.page("/pack/runs").count('href="/pack/runs/')

    def paper(self, page):
        return self.browser.get(re.search(r'href="(/pack/papers/[^"]+)"', page)[1]).body

    def job(self, page):
        return self.browser.get(re.search(r'data-path="([^"]+)"', page)[1], headers={"Accept": "application/json"})

    def until_job(self, page, holds):
        def told():
            answer = self.job(page).json
            return answer if holds(answer) else None
        return ipp_printer.wait_until(told, "the job stands as it should")

    def test_only_a_lead_with_a_pin_sets_up_printers(self):
        staff = self.station.browser()
        staff.sign_in("JT", self.pins["JT"])
        refused = self.set_up("ipp://localhost/ipp/print", browser=staff)
        self.assertEqual((403, "lead-required"), (refused.status, refused.json["error"]))
        self.assertEqual(303, self.station.browser().get("/pack/printers").status)

    def test_an_address_that_is_no_printer_s_is_refused(self):
        for uri in ("", "http://localhost/", "file:///etc/passwd", "ipp://", "ipp:///ipp/print", "ipp://:631/x",
                    "ipp://who@host/ipp", "ipp://host/a b", "ipp://" + "x" * 300, "javascript:alert(1)"):
            with self.subTest(uri):
                answer = self.set_up(uri)
                self.assertEqual((400, "bad-value"), (answer.status, answer.json["error"]))
        for name in ("", " ", "x" * 41, "a\tb"):
            with self.subTest(name):
                self.assertEqual("bad-value", self.set_up("ipp://localhost/ipp/print", name).json["error"])
        for stock, error in (("QUICK", "stock-direct-thermal"), ("NONE", "code-unknown"), ("", "code-unknown")):
            with self.subTest(stock):
                self.assertEqual(error, self.set_up("ipp://localhost/ipp/print", "Other", stock).json["error"])

    def test_a_printer_is_set_up_changed_and_taken_away(self):
        name = "<b>Label & desk</b>"
        self.assertEqual(200, self.set_up("ipp://localhost:1/ipp/print", name).status)
        self.assertEqual(200, self.set_up("ipps://localhost:2/ipp/print", name, "FILM").status)
        page = self.browser.page("/pack/printers")
        self.assertIn(html.escape(name), page)
        self.assertNotIn(name, page)
        self.assertIn("ipps://localhost:2/ipp/print", page)
        self.assertNotIn("localhost:1/", page)
        gone = self.browser.send("/pack/printers", "/pack/printers/remove", {"name": name})
        self.assertEqual(200, gone.status, gone.text)
        self.assertNotIn("localhost:2", self.browser.page("/pack/printers"))
        self.assertEqual(0, self.office.run("ledger", "verify").status)

    def test_labels_reach_a_real_printer_and_its_troubles_are_told(self):
        with ipp_printer.Ippeveprinter() as printer:
            self.assertEqual(200, self.set_up(printer.uri).status)
            idle = self.browser.get("/pack/printers/state?name=Bench").json
            self.assertEqual(("idle", True, []), (idle["activity"], idle["ready"], idle["troubles"]))
            printer.hinder("media-empty-error")
            answer = self.send()
            self.assertEqual(200, answer.status, answer.text)
            page = self.browser.page(answer.json["go"])
            told = self.until_job(page, lambda job: job["printer"]["troubles"])
            self.assertIn("out of labels", told["printer"]["troubles"][0]["text"])
            self.assertFalse(told["job"]["ended"])
            self.assertFalse(told["printer"]["ready"])
            self.assertIn("stopped", told["job"]["text"])
            self.assertIn("attention", told["printer"]["text"])
            printer.hinder("")
            told = self.until_job(page, lambda job: job["job"]["ended"])
            self.assertEqual(("done", []), (told["job"]["state"], told["printer"]["troubles"]))
            self.assertEqual([self.paper(page)], printer.printed)

    def test_a_roll_that_is_named_by_inches_takes_its_labels(self):
        with ipp_printer.Ippeveprinter(roll=(5715, 3175)) as printer:  # 2.25 x 1.25 inches
            self.set_up(printer.uri, stock="FILM")
            answer = self.send(count="3")
            self.assertEqual(200, answer.status, answer.text)
            page = self.browser.page(answer.json["go"])
            told = self.until_job(page, lambda job: job["job"]["ended"])
            self.assertEqual("done", told["job"]["state"])
            self.assertEqual([self.paper(page)], printer.printed)
            refused = self.send(template="wrap-100x50")
            self.assertIn("no labels of this size", refused.json["text"])

    def test_a_job_is_stopped(self):
        with ipp_printer.Ippeveprinter() as printer:
            self.set_up(printer.uri)
            printer.hinder("cover-open-error")
            page = self.browser.page(self.send().json["go"])
            told = self.until_job(page, lambda job: job["printer"]["troubles"])
            self.assertIn("cover is open", told["printer"]["troubles"][0]["text"])
            action = re.search(r'action="(/pack/jobs/[^"]+/cancel)"', page)[1]
            answer = self.browser.send(page, action)
            self.assertEqual(200, answer.status, answer.text)
            printer.hinder("")
            self.until_job(page, lambda job: job["job"]["ended"])

    def test_a_printer_without_such_labels_is_not_sent_any(self):
        with ipp_printer.Ippeveprinter() as printer:
            self.set_up(printer.uri, stock="FILM")
            before = self.runs()
            answer = self.send()
            self.assertEqual((503, "printer-refused"), (answer.status, answer.json["error"]))
            self.assertIn("no labels of this size", answer.json["text"])
            self.assertEqual(before, self.runs())

    def test_a_printer_that_is_gone_leaves_nothing_recorded(self):
        before = self.runs()
        for uri, why in ((f"ipp://127.0.0.1:{ipp_printer.free_port()}/ipp/print", "nothing answers there"),
                         ("ipp://printer.invalid/ipp/print", "no such name")):
            with self.subTest(uri):
                self.set_up(uri)
                answer = self.send()
                self.assertEqual((503, "printer-unavailable"), (answer.status, answer.json["error"]))
                self.assertIn(why, answer.json["text"])
        self.assertEqual(before, self.runs())

    def test_a_printer_that_never_answers_holds_nobody_up(self):
        with ipp_printer.SilentPrinter() as printer:
            self.set_up(printer.uri)
            before = self.runs()
            answers = []
            begun = time.monotonic()
            threads = [threading.Thread(target=lambda: answers.append(self.station_state())) for _ in range(2)]
            for thread in threads:
                thread.start()
            time.sleep(0.5)
            asked = time.monotonic()
            self.browser.page("/pack")
            self.assertLess(time.monotonic() - asked, 10)
            for thread in threads:
                thread.join(timeout=60)
            self.assertLess(time.monotonic() - begun, 45)
            self.assertEqual(["printer-unavailable"] * 2, answers)
            self.assertEqual(before, self.runs())

    def station_state(self):
        browser = self.station.browser()
        browser.sign_in("MB", self.pins["MB"])
        return browser.get("/pack/printers/state?name=Bench", headers={"Accept": "application/json"}).json["error"]

    def test_labels_that_the_printer_refuses_are_kept_and_sent_again(self):
        with ipp_printer.StubPrinter() as printer:
            self.set_up(printer.uri)
            printer.job_status = 0x0507  # server-error-busy
            before = self.runs()
            answer = self.send()
            self.assertEqual(200, answer.status, answer.text)
            page = self.browser.page(answer.json["go"])
            self.assertIn("did not take the labels", page)
            self.assertIn("recorded all the same", page)
            self.assertEqual(before + 1, self.runs())
            self.assertEqual([], printer.jobs)
            again = re.search(r'action="(/pack/jobs/[^"]+/send)"', page)[1]
            refused = self.browser.send(page, again)
            self.assertEqual("printer-refused", refused.json["error"])
            printer.job_status = 0
            done = self.browser.send(page, again)
            self.assertEqual(200, done.status, done.text)
            self.assertEqual([self.paper(page)], printer.jobs)
            self.assertEqual("done", self.job(self.browser.page(done.json["go"])).json["job"]["state"])
            self.assertEqual(done.json, self.browser.send(page, again).json)  # the same form: the same answer
            self.assertEqual(1, len(printer.jobs))

    def test_every_trouble_has_its_words_and_one_of_the_maker_s_is_named(self):
        with ipp_printer.StubPrinter() as printer:
            self.set_up(printer.uri)
            printer.reasons = ["media-low-warning", "acme-blade-dull<b>", "paused", "marker-supply-empty-error",
                               "developer-low-report"]
            told = self.browser.get("/pack/printers/state?name=Bench").json
            self.assertEqual(["media-low", "other", "paused", "marker-supply-empty"],
                             [each["code"] for each in told["troubles"]])
            self.assertIn("acme-blade-dull<b>", told["troubles"][1]["text"])
            self.assertFalse(told["ready"])
            printer.accepting = False
            self.assertIn("takes no jobs", self.send().json["text"])

    def test_a_reprint_goes_only_to_the_printer_with_that_stock(self):
        with ipp_printer.StubPrinter() as printer:
            self.set_up(printer.uri)
            self.set_up(printer.uri, "Roll", "FILM")
            path = self.send().json["go"].split("?")[0]
            again = {"whole": "yes", "destroyed": "yes", "printer": "Roll"}
            refused = self.browser.send(path, path + "/reprint", again)
            self.assertEqual("bad-value", refused.json["error"])
            done = self.browser.send(path, path + "/reprint", again | {"printer": "Bench"})
            self.assertEqual(200, done.status, done.text)
            self.assertEqual(2, len(printer.jobs))
            self.assertEqual(printer.jobs[0], printer.jobs[1])


if __name__ == "__main__":
    office.main()
