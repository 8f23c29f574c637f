"""Records at the station: a package's page with its whole history, the search, the period's document and table,
and the ledger's state, each beside what the commands answer."""

import html
import pathlib
import re
import sqlite3
import tempfile
import time
import unittest

import office
import station

MARKUP = "<img src=x onerror=alert(1)>"


def listed(page):
    """The addresses of what a search found."""
    return re.findall(r'class="line found" href="([^"]+)"', page)


class Records(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office")
        made = office.run("--office", cls.office.folder, "init", "--demo")
        assert made.status == 0, made.err
        cls.cases = {line["case"]: line for line in made.lines}
        cls.office.ok("contents", "add", "ODD", "--name", MARKUP, operator="MB")
        cls.pin = cls.office.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        cls.station = station.Station(cls.office.folder)
        cls.anyone = cls.station.browser()
        cls.reader = cls.station.browser()
        cls.reader.sign_in("MB", cls.pin)

    @classmethod
    def tearDownClass(cls):
        cls.station.stop()
        cls.folder.cleanup()

    def signed_in(self):
        browser = self.station.browser()
        browser.sign_in("MB", self.pin)
        return browser

    def find(self, text="", first="", last=""):
        answer = self.reader.send("/records", "/records", {"search": text, "from": first, "to": last}, as_script=False)
        self.assertEqual(200, answer.status, answer.text)
        return answer.text

    def test_a_package_s_page_judges_as_the_check_does_and_leaves_no_trace(self):
        for case in ("clear", "hold", "quarantined", "failed", "recalled", "opened", "withdrawn", "never-loaded", "void",
                     "expired"):
            with self.subTest(case):
                package = self.cases[case]["package"]
                wanted = self.office.run("check", "--id", package, operator=None).lines[0]
                before = len(self.office.events())
                page = self.anyone.page(f"/packages/{package}")
                self.assertEqual(before, len(self.office.events()))
                self.assertIn(f'<article class="verdict {wanted["outcome"]}">', page)
                for reason in wanted["reasons"]:
                    self.assertIn(reason["text"].replace("'", "&#39;"), page)
                    self.assertIn(reason["action"].replace("'", "&#39;"), page)

    def test_a_check_that_is_asked_for_is_written(self):
        package = self.cases["clear"]["package"]
        before = len(self.office.events())
        path = f"/packages/{package}"
        answer = self.anyone.send(path, path + "/check")
        self.assertIn("done=checked", answer.json["go"])
        event = self.office.events()[before]
        self.assertEqual(("package-checked", package), (event["kind"], event["subject"]))

    def test_a_history_names_every_event_that_names_the_package(self):
        named = {}
        for entry in self.office.events():
            for case in self.cases.values():
                about = entry["subject"] in (case["package"], case["load"])
                records = [record["row"] for record in entry["body"]["records"]]
                if about or any(row.get("id") == case["package"] for row in records):
                    named.setdefault(case["package"], []).append(entry)
        words = office.json.loads((office.SOURCE / "templates/words/en.json").read_text())
        for package, entries in named.items():
            page = self.anyone.page(f"/packages/{package}?all=1")
            history = re.search(r'<ol class="history">.*?</ol>', page, re.DOTALL).group(0)
            of_others = {"labels-printed", "packages-added", "packages-removed"}
            wanted = [e for e in entries if e["kind"] not in of_others
                      or any(record["row"].get("id") == package for record in e["body"]["records"])]
            self.assertGreaterEqual(history.count("<li"), len(wanted), package)
            for kind in {entry["kind"] for entry in wanted}:
                beginning = re.split(r"[\[{]", words[f"event.{kind}"])[0].strip()
                self.assertIn(beginning, history, (package, kind))

    def test_an_unknown_package_is_told_and_a_wrong_id_too(self):
        unknown = "000000000V"
        answer = self.anyone.get(f"/packages/{unknown}")
        self.assertEqual(404, answer.status)
        self.assertIn('<article class="verdict do-not-use">', answer.text)
        for wrong in ("XYZ", station.urllib.parse.quote(MARKUP, safe="")):
            answer = self.anyone.get(f"/packages/{wrong}")
            self.assertEqual(400, answer.status)
            self.assertNotIn(MARKUP, answer.text)
        forged = self.anyone.get("/packages/" + self.cases["forged"]["payload"])
        self.assertEqual(409, forged.status)

    def test_records_and_visits_are_for_whoever_is_signed_in(self):
        self.assertEqual(303, self.anyone.get("/records").status)
        package = self.cases["opened"]["package"]
        visit = next(record["row"]["visit"] for entry in self.office.events() if entry["kind"] == "package-opened"
                     and entry["subject"] == package for record in entry["body"]["records"])
        self.assertIn(visit, self.reader.page(f"/packages/{package}?all=1"))
        self.assertNotIn(visit, self.anyone.page(f"/packages/{package}?all=1"))

    def test_a_search_finds_by_every_mark(self):
        package, load = self.cases["opened"]["package"], self.cases["opened"]["load"]
        row = next(record["row"] for entry in self.office.events() if entry["kind"] == "package-opened"
                   and entry["subject"] == package for record in entry["body"]["records"])
        link = f"/packages/{package}"
        for text in (package, package.lower(), f"{package[:3]}-{package[3:6]}-{package[6:]}",
                     self.cases["opened"]["payload"], package[2:8], row["visit"], row["visit"].lower()):
            with self.subTest(text):
                if text is not None:
                    self.assertIn(link, listed(self.find(text)))
        self.assertEqual([f"/loads/{load}"], listed(self.find(load)))
        self.assertIn(f"/loads/{load}", listed(self.find(load.split("-")[1])))
        self.assertIn("/loads/S1-64", listed(self.find("S1")))
        self.assertTrue(all(each.startswith("/packages/") for each in listed(self.find("ENDO"))))
        self.assertTrue(listed(self.find("MB")))
        self.assertEqual([], listed(self.find("no such thing anywhere")))
        self.assertIn("Nothing in the record fits", self.find("no such thing anywhere"))

    def test_a_span_of_days_finds_the_loads_that_the_command_lists(self):
        with tempfile.TemporaryDirectory() as folder:
            out = folder + "/period.csv"
            dates = sorted({e["at"][:10] for e in self.office.events() if e["kind"] == "load-started"})
            first, last = dates[-3], dates[-1]
            self.office.ok("load", "period", "--from", first, "--to", last, "--csv", out, operator=None)
            wanted = {line.split(",")[0] for line in pathlib.Path(out).read_text("utf-8-sig").splitlines()[1:]}
            found = {each.removeprefix("/loads/") for each in listed(self.find("", first, last)) if "/loads/" in each}
            self.assertTrue(wanted)
            self.assertLessEqual(found, wanted)
            if len(wanted) <= 25:
                self.assertEqual(wanted, found)

    def test_more_than_fit_are_paged_and_none_is_lost(self):
        everything = {entry["subject"] for entry in self.office.events() if entry["kind"] == "load-opened"
                      and entry["subject"].startswith("S1-")}
        found, page = [], self.find("S1")
        while True:
            found += [each for each in listed(page) if each.startswith("/loads/")]
            more = re.search(r'<form(?:(?!</form>).)*More of these', page, re.DOTALL)
            if not more:
                break
            self.assertNotRegex(page, 'href="[^"]*search=')  # what is looked for stands in no address
            fields = {name: html.unescape(value) for name, value in
                      re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', more.group(0).rsplit("<form", 1)[1])}
            page = self.reader.post("/records", fields.items(), as_script=False).text
        self.assertEqual(len(found), len(set(found)))
        self.assertLessEqual({f"/loads/{load}" for load in everything}, set(found))

    def test_what_is_searched_for_is_shown_as_text_only(self):
        page = self.find(MARKUP)
        self.assertNotIn(MARKUP, page)
        self.assertIn(html.escape(MARKUP), page.replace("&#39;", "&#x27;"))
        self.assertNotIn(MARKUP, self.find("ODD"))
        for first, last in (("yesterday", ""), ("2026-13-01", ""), ("2026-11-28", "2026-11-01"), (MARKUP, "")):
            answer = self.reader.get("/records?" + station.urllib.parse.urlencode({"from": first, "to": last}))
            self.assertEqual(400, answer.status)
            self.assertNotIn(MARKUP, answer.text)
        self.assertEqual(200, self.reader.get("/records?search=x&group=contents&of=x&skip=-7").status)
        self.assertEqual(200, self.reader.get("/records?search=MB&group=operator&of=MB&skip=99999999999").status)

    def test_the_period_s_document_and_table_are_the_command_s(self):
        browser = self.signed_in()
        query = "from=2026-10-20&to=2026-11-28&sterilizer=S1"
        with tempfile.TemporaryDirectory() as folder:
            out = folder + "/period.csv"
            self.office.ok("load", "period", "--from", "2026-10-20", "--to", "2026-11-28", "--sterilizer", "S1", "--csv",
                           out, operator=None)
            table = browser.get(f"/records/period.csv?{query}")
            self.assertEqual(200, table.status)
            self.assertEqual(pathlib.Path(out).read_bytes(), table.body)
        document = browser.get(f"/records/period.pdf?{query}&paper=letter")
        self.assertEqual((200, "application/pdf"), (document.status, document.headers["content-type"]))
        self.assertTrue(document.body.startswith(b"%PDF"))
        self.assertEqual(400, browser.get("/records/period.pdf?from=2026-11-28&to=2026-11-01").status)
        self.assertEqual(400, browser.get("/records/period.csv?from=&to=").status)
        self.assertEqual(303, self.anyone.get(f"/records/period.pdf?{query}").status)

    def verified(self, browser, place="/records"):
        answer = browser.send(place, "/records/ledger/verify")
        self.assertEqual(200, answer.status, answer.text)
        for _ in range(300):
            piece = browser.get("/records/ledger").text
            if "data-running" not in piece:
                return piece
            time.sleep(0.1)
        self.fail("the verification never ended")

    def test_the_ledger_is_verified_as_the_command_does(self):
        self.assertIn("is whole", self.verified(self.signed_in()))
        answer = self.anyone.post("/records/ledger/verify", [])
        self.assertEqual(401, answer.status)

    def test_an_altered_record_shows(self):
        with tempfile.TemporaryDirectory() as folder:
            copy = self.office.copied_to(folder + "/office")
            package = self.cases["failed"]["package"]
            with station.Station(copy.folder) as served:
                browser = served.browser()
                browser.sign_in("MB", self.pin)
                record = sqlite3.connect(copy.folder / "record.db")
                record.execute("UPDATE packages SET contents = 'EXAM' WHERE id = ?", (package,))
                record.commit()
                record.close()
                piece = self.verified(browser)
                verdict = copy.run("ledger", "verify", operator=None)
                self.assertEqual(20, verdict.status)
                for line in verdict.lines:
                    self.assertIn(line["where"], piece)
                self.assertIn("altered outside this program", piece)
                self.assertNotIn("is whole", piece)


if __name__ == "__main__":
    office.main()
