"""What leaves the office: a day's work leaves no secret and no visit in what is logged, and each reader of an export
gets only what is granted."""

import csv
import io
import json
import pathlib
import re
import tarfile
import tempfile
import unittest

import office
import station

VISIT = "V-90417-Q"
OTHER_VISIT = "K-55102"


class Private(unittest.TestCase):
    """One office, a day's work at its station and by commands."""

    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(folder.cleanup)
        cls.folder = pathlib.Path(folder.name)
        cls.office = office.Office(cls.folder / "office").fill()
        cls.pins = {"MB": "heron-and-lantern", "JT": "quince-by-the-wall"}  # told from every run of digits
        cls.said = []  # everything that commands print, but what was asked for
        cls.load, cls.labels = cls.office.released(3)
        cls.work()

    @classmethod
    def command(cls, *arguments, **more):
        reply = cls.office.run(*arguments, **more)
        cls.said.append(reply.out.decode("utf-8", "replace") + reply.err)
        return reply

    @classmethod
    def work(cls):
        with station.Station(cls.office.folder) as serving:
            browser = serving.browser()
            cls.choose_pins(browser)
            browser.sign_in("JT", cls.pins["JT"])
            cls.opened_at_station(browser)
            browser.send("/records", "/records", {"search": VISIT}, as_script=False)
            browser.send("/sign-in", "/sign-in", {"operator": "MB", "pin": "000000"})
            browser.get("/packages/none/open")
            browser.sign_in("MB", cls.pins["MB"])
            browser.send("/set-up/keys", "/set-up/keys")
            cls.cookies = list(browser.cookies.values())
            serving.process.terminate()
            out, err = serving.process.communicate(timeout=60)
            cls.logged = (out + err).decode("utf-8", "replace")
        second = cls.labels[1]["package"]
        cls.command("open", second, *office.EYES, "--visit", OTHER_VISIT)
        cls.command("open", second, *office.EYES, "--visit", OTHER_VISIT)  # again: refused
        cls.command("open", cls.labels[2]["package"], *office.EYES, "--visit", "maren 1970-01-01")
        for verb in (["check", "--id", second], ["due"], ["ledger", "verify"], ["key", "list"], ["profile", "show"],
                     ["operator", "list"], ["load", "show", cls.load]):
            cls.command(*verb)
            cls.command(*verb, json_wanted=False)

    @classmethod
    def choose_pins(cls, browser):
        browser.sign_in("MB", cls.office.ok("operator", "pin", "MB", operator="MB")[0]["pin"])
        for code in ("JT", "MB"):
            page = browser.page(f"/set-up/tables/operator/entry?code={code}")
            answer = browser.send(page, "/set-up/operator/pin", {"pin-how": "choose", "pin": cls.pins[code]})
            assert answer.status == 200, answer.text

    @classmethod
    def opened_at_station(cls, browser):
        path = f"/packages/{cls.labels[0]['package']}/open"
        answer = browser.send(path, path, {"dry": "yes", "intact": "yes", "indicator": "changed", "visit": VISIT})
        assert answer.status == 200, answer.text
        assert VISIT not in answer.json["go"], answer.json

    def secrets(self):
        keys = [entry["key"] for entry in json.loads((self.office.folder / "keys.json").read_text())["keys"]]
        self.assertEqual(2, len(keys))
        pins = json.loads((self.office.folder / "pins.json").read_text())
        hashes = re.findall(r"\$argon2id\$[^\"]+", json.dumps(pins))
        self.assertTrue(hashes)
        return [*keys, *(key.upper() for key in keys), *self.pins.values(), *hashes]

    def assert_silent(self, text, more=()):
        for secret in (*self.secrets(), *more):
            self.assertNotIn(secret, text)

    def test_the_station_s_log_holds_no_secret_and_no_visit(self):
        self.assert_silent(self.logged, (VISIT, OTHER_VISIT, *self.cookies))

    def test_no_command_says_a_secret_or_a_visit_that_nobody_asked_for(self):
        for text in self.said:
            self.assert_silent(text, (VISIT, "maren"))

    def test_no_page_and_no_address_of_the_station_holds_a_secret(self):
        with station.Station(self.office.folder) as serving:
            browser = serving.browser()
            browser.sign_in("MB", self.pins["MB"])
            for path in ("/", "/records", "/set-up", "/set-up/keys", "/set-up/profile", "/set-up/backup",
                         "/set-up/export", "/set-up/tables/operator", "/sign-in"):
                with self.subTest(path):
                    page = browser.page(path)
                    self.assert_silent(page, [browser.cookies["loadlight-browser"]])
                    self.assertNotIn(VISIT, page)
            found = browser.send("/records", "/records", {"search": VISIT}, as_script=False).text
            self.assertIn(self.labels[0]["package"], found)
            self.assertNotRegex(found, rf'(href|action|src)="[^"]*{VISIT}')

    def test_the_ledger_and_its_export_hold_no_secret(self):
        self.assert_silent(office.run("--office", self.office.folder, "ledger", "export").out.decode())
        for file in self.office.folder.glob("record.db*"):
            self.assert_silent(file.read_bytes().decode("latin-1"))

    # ---- exports ----
    def exported(self, reader, *more):
        out = self.folder / f"{reader}-{len(list(self.folder.iterdir()))}.tar"
        line = self.office.ok("export", "--for", reader, "--out", out, *more, operator="MB")[0]
        self.assertEqual((reader, str(out)), (line["for"], line["out"]))
        self.assertEqual(0o600, out.stat().st_mode & 0o777)
        with tarfile.open(out) as archive:
            return {each.name: archive.extractfile(each).read().decode() for each in archive.getmembers()}

    @staticmethod
    def rows(text):
        return list(csv.DictReader(io.StringIO(text)))

    def test_each_reader_gets_its_tables_and_no_secret_and_no_visit(self):
        files = {reader: self.exported(reader) for reader in ("inspector", "technician", "research")}
        for texts in files.values():
            for text in texts.values():
                self.assert_silent(text, (VISIT, OTHER_VISIT, "Maren Brooks", "Jonas Tellow"))
            self.assertIn("README.txt", texts)
            self.assertRegex(texts["README.txt"], "visit: left out")
        package = self.labels[0]["package"]
        opened = next(row for row in self.rows(files["inspector"]["packages.csv"]) if row["package"] == package)
        self.assertEqual(("JT", "opened"), (opened["opened_by"], opened["state"]))
        self.assertTrue(opened["opened_at"])
        self.assertTrue(any(row["decided_by"] == "JT" for row in self.rows(files["inspector"]["loads.csv"])))
        for reader in ("technician", "research"):
            self.assertNotIn("packages.csv", files[reader])
            self.assertNotIn(package, "".join(files[reader].values()))
        self.assertEqual({"README.txt", "office.csv", "sterilizers.csv", "programs.csv", "loads.csv", "indicators.csv",
                          "cycle-logs.csv", "services.csv"}, set(files["technician"]))
        self.assertNotRegex("".join(files["research"].values()), r"\b(MB|JT|S1-\d)\b")
        for row in self.rows(files["research"]["loads.csv"]):
            self.assertRegex(row["process_date"], r"^\d{4}-\d\d$")

    def test_an_export_is_a_lead_s_and_stands_on_the_record(self):
        out = self.folder / "no.tar"
        refused = self.office.run("export", "--for", "inspector", "--out", out)
        self.assertEqual((20, "lead-required"), (refused.status, refused.lines[0]["error"]))
        self.assertFalse(out.exists())
        self.exported("inspector", "--from", "2020-01-01", "--to", "2020-12-31")
        event = [each for each in self.office.events() if each["kind"] == "record-exported"][-1]
        self.assertEqual(("MB", "inspector"), (event["operator"], event["subject"]))
        self.assertEqual({"from": "2020-01-01", "to": "2020-12-31"}, event["body"]["details"])
        for wrong in (["--for", "anyone"], ["--for", "research", "--from", "soon"],
                      ["--for", "research", "--from", "2026-01-02", "--to", "2026-01-01"]):
            with self.subTest(wrong):
                self.assertEqual(2, self.office.run("export", "--out", out, *wrong, operator="MB").status)
        inside = self.office.run("export", "--for", "inspector", "--out", self.office.folder / "keys.json", operator="MB")
        self.assertEqual(2, inside.status)

    def test_the_station_hands_out_the_same_tables(self):
        with station.Station(self.office.folder) as serving:
            browser = serving.browser()
            browser.sign_in("MB", self.pins["MB"])
            answer = browser.send("/set-up/export", "/set-up/export", {"for": "technician"}, as_script=False)
            self.assertEqual((200, "application/x-tar"), (answer.status, answer.headers["content-type"]))
            with tarfile.open(fileobj=io.BytesIO(answer.body)) as archive:
                names = set(archive.getnames())
            self.assertEqual(set(self.exported("technician")), names)
            browser.sign_in("JT", self.pins["JT"])
            refused = browser.send("/set-up/export", "/set-up/export", {"for": "technician"})
            self.assertEqual("lead-required", refused.json["error"])


if __name__ == "__main__":
    office.main()
