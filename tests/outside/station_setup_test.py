"""From nothing to a printed label in the browser, and what the office is set up with afterwards."""

import html
import io
import json
import pathlib
import re
import tarfile
import tempfile
import unittest

import office
import picture
import station

FIRST_LABEL = {"contents": "EXAM", "kind": "P", "count": "1", "load": "S1-1", "packed": "yes"}
NASTY = "<script>alert('x')</script>\"&"


class Nothing(unittest.TestCase):
    """A station on a folder that holds no office."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.office = pathlib.Path(self.folder.name) / "office"
        self.station = station.Station(self.office)
        self.addCleanup(self.station.stop)

    def first_run_fields(self, browser, **changed):
        """What the page has filled in, with what a person types."""
        text = browser.page("/first-run")
        fields = {}
        for tag in re.findall(r"<input\b[^>]*>", text):
            at = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
            if at.get("type") in ("checkbox", "radio") and " checked" not in tag:
                continue
            if "name" in at and at.get("type") != "hidden":
                fields[at["name"]] = html.unescape(at.get("value", ""))
        for name, body in re.findall(r'<select name="([^"]+)">(.*?)</select>', text, re.DOTALL):
            options = re.findall(r"<option([^>]*)>([^<]*)", body)
            chosen = next((o for o in options if "selected" in o[0]), options[0])
            value = re.search(r'value="([^"]*)"', chosen[0])
            fields[name] = html.unescape(value.group(1) if value else chosen[1])
        fields |= {"office-name": "Corner office", "lead-code": "MB", "lead-name": "Maren Brooks",
                   "stock-1.rating_note": "Invented sheet, page 2"}
        return fields | {name.replace("__", "."): value for name, value in changed.items()}

    def begin(self, browser, **changed):
        return browser.send("/first-run", "/first-run", self.first_run_fields(browser, **changed))

    def test_every_page_leads_to_the_first_run(self):
        browser = self.station.browser()
        for path in ("/", "/pack", "/loads", "/set-up", "/records"):
            answer = browser.get(path)
            self.assertEqual((303, "/first-run"), (answer.status, answer.headers["location"]))
        answer = browser.get("/", headers={"Accept": "application/json"})
        self.assertEqual((503, "office-absent"), (answer.status, answer.json["error"]))

    def test_from_nothing_to_the_first_printed_label(self):
        browser = self.station.browser()
        answer = self.begin(browser)
        self.assertEqual((200, "/set-up/pin"), (answer.status, answer.json.get("go")), answer.text)
        page = browser.page("/set-up/pin")
        pin = re.search(r'class="pin"[^>]*>(\d{6})<', page).group(1)
        self.assertTrue(browser.send(page, "/set-up/pin").json["go"].startswith("/pack?done=office-made"))
        self.assertEqual(303, browser.get("/set-up/pin").status)  # shown no more
        with self.subTest("the office is what the page said"):
            here = office.Office(self.office)
            self.assertEqual(["EXAM", "EXTR"], [row["code"] for row in here.ok("contents", "list")])
            self.assertEqual([("MB", "lead")], [(r["code"], r["role"]) for r in here.ok("operator", "list")])
            self.assertEqual(0, here.run("ledger", "verify").status)
        with self.subTest("a label is printed"):
            answer = browser.send("/pack", "/pack/print", FIRST_LABEL)
            self.assertEqual(200, answer.status, answer.text)
            run = browser.page(answer.json["go"])
            pdf = pathlib.Path(self.folder.name) / "label.pdf"
            pdf.write_bytes(browser.get(re.search(r'href="(/pack/papers/[^"]+)"', run)[1]).body)
            read = office.run("read", picture.pages_of(pdf)[0].save(pdf.with_suffix(".png"))).lines
            self.assertEqual(["LL1.S"], [line["text"][:5] for line in read])
            self.assertEqual("never-in-a-load", here.run("check", "--text", read[0]["text"]).lines[0]["reasons"][0]["code"])
        with self.subTest("the PIN signs in elsewhere"):
            other = self.station.browser()
            other.sign_in("MB", pin)
            other.page("/set-up/tables/operator")

    def test_a_chosen_pin_is_not_shown(self):
        browser = self.station.browser()
        answer = self.begin(browser, **{"pin-how": "choose", "pin": "lamp on the load"})
        self.assertTrue(answer.json["go"].startswith("/pack?done=office-made"), answer.text)
        self.station.browser().sign_in("MB", "lamp on the load")

    def test_what_is_refused_leaves_nothing(self):
        for changed, code in (({"pin-how": "choose", "pin": "12345678"}, "pin-too-weak"),
                              ({"zone": "Nowhere/Town"}, "zone-unknown"),
                              ({"profile": "none"}, "bad-value"),
                              ({"days": "0"}, "bad-value"),
                              ({"days": "x"}, "bad-value"),
                              ({"language": "xx"}, "bad-value"),
                              ({"office-name": ""}, "bad-value"),
                              ({"lead-code": "lower"}, "bad-code"),
                              ({"lead-name": ""}, "bad-value"),
                              ({"sterilizer-1__code": "TOOLONG"}, "bad-code"),
                              ({"contents-2__code": "EXAM"}, "code-taken"),
                              ({"stock-1__rating_note": ""}, "bad-value"),
                              ({"stock-1__method": "direct-thermal"}, "stock-direct-thermal")):
            with self.subTest(changed):
                answer = self.begin(self.station.browser(), **changed)
                self.assertEqual(code, answer.json["error"], answer.text)
                self.assertFalse(self.office.exists())

    def test_what_is_unticked_is_left_out(self):
        browser = self.station.browser()
        fields = self.first_run_fields(browser)
        for name in ("location-1", "contents-2"):
            del fields[name]
        answer = browser.send("/first-run", "/first-run", fields)
        self.assertEqual(200, answer.status, answer.text)
        here = office.Office(self.office)
        self.assertEqual([], here.ok("location", "list"))
        self.assertEqual(["EXAM"], [row["code"] for row in here.ok("contents", "list")])

    def test_an_office_is_never_made_twice(self):
        browser, late = self.station.browser(), self.station.browser()
        fields = self.first_run_fields(late)
        form = late.form("/first-run", "/first-run")
        self.assertEqual(200, self.begin(browser).status)
        answer = late.post("/first-run", [*form.items(), *fields.items()])
        self.assertEqual((409, "office-exists"), (answer.status, answer.json["error"]))
        self.assertEqual((303, "/"), (late.get("/first-run").status, late.get("/first-run").headers["location"]))
        self.assertEqual(1, len(office.Office(self.office).ok("operator", "list")))

    def test_a_second_touch_makes_no_second_office(self):
        browser = self.station.browser()
        fields = [*browser.form("/first-run", "/first-run").items(), *self.first_run_fields(browser).items()]
        same = self.station.browser()
        same.cookies = dict(browser.cookies)
        answers = [each.post("/first-run", fields) for each in (browser, same)]
        self.assertEqual([200, 200], [answer.status for answer in answers])
        self.assertEqual(answers[0].json, answers[1].json)
        self.assertEqual(1, len(office.Office(self.office).ok("operator", "list")))

    def test_html_in_every_field_comes_out_as_text(self):
        browser = self.station.browser()
        answer = self.begin(browser, **{"office-name": NASTY, "lead-name": NASTY, "contents-1__name": NASTY,
                                        "sterilizer-1__name": NASTY, "location-1__name": NASTY,
                                        "stock-1__rating_note": NASTY})
        self.assertEqual(200, answer.status, answer.text)
        for path in ("/set-up/pin", "/set-up", "/set-up/profile", *(f"/set-up/tables/{name}" for name in
                     ("operator", "contents", "sterilizer", "location", "stock"))):
            text = browser.page(path)
            self.assertNotIn("<script>alert", text)
        self.assertIn(html.escape(NASTY, quote=True).replace("&#x27;", "&#39;"), browser.page("/set-up/tables/contents"))

    def test_an_office_with_nobody_in_it_gets_its_lead(self):
        office.run("--office", self.office, "init", "--zone", "UTC")
        browser = self.station.browser()
        self.assertEqual("/first-run", browser.get("/sign-in").headers["location"])
        lead = {"lead-code": "MB", "lead-name": "Maren"}
        for wrong, code in (({"pin-how": "choose", "pin": "123"}, "pin-too-weak"), ({"lead-code": "no"}, "bad-code")):
            answer = browser.send("/first-run", "/first-run", lead | wrong)
            self.assertEqual(code, answer.json["error"], answer.text)
        answer = browser.send("/first-run", "/first-run", lead | {"pin-how": "issue"})
        self.assertEqual("/set-up/pin", answer.json.get("go"), answer.text)
        self.assertEqual("/set-up", browser.send("/set-up/pin", "/set-up/pin").json["go"])
        self.assertEqual([("MB", "lead")], [(r["code"], r["role"]) for r in
                                            office.Office(self.office).ok("operator", "list")])
        self.assertEqual("/", browser.get("/first-run").headers["location"])

    def test_the_demo_office_is_for_trying(self):
        browser = self.station.browser()
        answer = browser.send("/first-run", "/first-run/demo")
        self.assertEqual("/set-up/pin", answer.json["go"], answer.text)
        browser.send("/set-up/pin", "/set-up/pin")
        self.assertIn("S1", browser.page("/"))


class AtWork(unittest.TestCase):
    """Set-up of an office that works."""

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office").fill()
        cls.pin = cls.office.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        cls.staff_pin = cls.office.ok("operator", "pin", "JT", operator="MB")[0]["pin"]
        cls.station = station.Station(cls.office.folder)

    @classmethod
    def tearDownClass(cls):
        cls.station.stop()
        cls.folder.cleanup()

    def lead(self):
        browser = self.station.browser()
        browser.sign_in("MB", self.pin)
        return browser

    def import_csv(self, browser, table, csv):
        path = f"/set-up/tables/{table}/import"
        token = re.search(r'data-token="([^"]+)"', browser.page(f"/set-up/tables/{table}")).group(1)
        return browser.ask("POST", path, csv.encode(), {"Content-Type": "text/csv", "Accept": "application/json",
                                                        "X-Loadlight-Token": token})

    def test_set_up_needs_a_pin(self):
        browser = self.station.browser()
        for path in ("/set-up", "/set-up/tables/operator", "/set-up/badge?operator=MB"):
            answer = browser.get(path)
            self.assertEqual(303, answer.status)
            self.assertTrue(answer.headers["location"].startswith("/sign-in"))
        answer = browser.post("/set-up/tables/location/add", {"code": "X", "name": "X"}.items())
        self.assertEqual((401, "sign-in-needed"), (answer.status, answer.json["error"]))

    def test_every_table_is_listed_added_to_and_retired_from(self):
        browser = self.lead()
        rows = {"operator": {"code": "ZZ", "name": "Zoe Zander", "role": "staff"},
                "sterilizer": {"code": "Z1", "name": "Third", "removal": "gravity", "type": "N"},
                "contents": {"code": "ZSET", "name": "Set", "items": "a; b", "hinged": "yes"},
                "kind": {"code": "Z", "name": "Wrap", "wrapping": "double-wrap"},
                "location": {"code": "ZCAB", "name": "Cabinet"},
                "stock": {"code": "ZST", "name": "Sheets", "method": "laser", "dpi": "600", "rating": "unrated"},
                "program": {"code": "ZP", "name": "Program", "sterilizer": "S1", "load_kind": "wrapped",
                            "celsius": "134", "exposure_minutes": "4", "drying_minutes": "20",
                            "document": "Instructions", "page": "p. 3"},
                "consumable": {"lot": "L/1 2", "kind": "chemical", "name": "Strips", "expires": "2099-01-31"}}
        for table, row in rows.items():
            with self.subTest(table):
                path = f"/set-up/tables/{table}"
                answer = browser.send(path, path + "/add", row)
                self.assertEqual(200, answer.status, answer.text)
                code = row.get("code", row.get("lot"))
                self.assertIn(f">{code}</a>", browser.page(path))
                again = browser.send(path, path + "/add", row)
                self.assertEqual("code-taken", again.json["error"])
                entry = path + "/entry?code=" + code.replace("/", "%2F").replace(" ", "%20")
                answer = browser.send(browser.page(entry), path + "/retire", {"code": code})
                self.assertEqual(200, answer.status, answer.text)
                self.assertNotIn(path + '/retire"', browser.page(entry))

    def test_what_is_typed_wrongly_is_named(self):
        browser = self.lead()
        for table, row, code in (("location", {"code": "no", "name": "x"}, "bad-code"),
                                 ("location", {"code": "OK1", "name": ""}, "bad-value"),
                                 ("stock", {"code": "T1", "name": "x", "method": "direct-thermal", "dpi": "203",
                                            "rating": "maker-sheet", "rating_note": "x"}, "stock-direct-thermal"),
                                 ("program", {"code": "P1", "name": "x", "sterilizer": "NO", "load_kind": "any",
                                              "celsius": "134", "exposure_minutes": "3", "drying_minutes": "0",
                                              "document": "x", "page": "1"}, "code-unknown")):
            path = f"/set-up/tables/{table}"
            answer = browser.send(path, path + "/add", row)
            self.assertEqual(code, answer.json["error"], answer.text)
        self.assertEqual(404, browser.get("/set-up/tables/nothing").status)
        self.assertEqual("code-unknown", browser.get("/set-up/tables/kind/entry?code=XX",
                                                     headers={"Accept": "application/json"}).json["error"])

    def test_a_table_goes_out_and_comes_in_as_csv(self):
        browser = self.lead()
        csv = browser.get("/set-up/tables/contents/export")
        self.assertEqual("text/csv; charset=utf-8", csv.headers["content-type"])
        self.assertTrue(csv.text.startswith("code,name,items,implant,hinged,not_stainless,hollow\r\n"))
        answer = self.import_csv(browser, "contents", "code,name\nCSVA,From a file\nCSVB,=1+1\n")
        self.assertEqual(200, answer.status, answer.text)
        self.assertIn("CSVA", browser.page("/set-up/tables/contents"))
        self.assertIn("'=1+1", browser.get("/set-up/tables/contents/export").text)

    def test_a_csv_with_faults_lists_them_and_adds_nothing(self):
        browser = self.lead()
        answer = self.import_csv(browser, "contents", "code,name\nGOOD1,Good\nbad code,x\nGOOD1,Twice\n,Empty\n")
        self.assertEqual((400, "bad-csv"), (answer.status, answer.json["error"]))
        self.assertEqual(3, len(answer.json["items"]))
        self.assertTrue(all(f"{line}" in item for line, item in zip((3, 4, 5), answer.json["items"])))
        self.assertNotIn("GOOD1", browser.page("/set-up/tables/contents"))
        for csv in ("", "\0", "what,else\n1,2\n", "code;name\n" + "x" * 100):
            self.assertEqual(400, self.import_csv(browser, "contents", csv).status)

    def test_staff_may_not_make_leads_or_give_pins(self):
        browser = self.station.browser()
        browser.sign_in("JT", self.staff_pin)
        path = "/set-up/tables/operator"
        answer = browser.send(path, path + "/add", {"code": "Q", "name": "Q", "role": "lead"})
        self.assertEqual((403, "lead-required"), (answer.status, answer.json["error"]))
        entry = browser.page(path + "/entry?code=MB")
        answer = browser.send(entry, "/set-up/operator/pin", {"pin-how": "issue"})
        self.assertEqual("lead-required", answer.json["error"])
        badge = browser.get("/set-up/badge?operator=MB", headers={"Accept": "application/json"})
        self.assertEqual("lead-required", badge.json["error"])
        answer = browser.send("/set-up/profile", "/set-up/profile",
                              {"name": "biological", "value": "daily", "why": "ours"})
        self.assertEqual("lead-required", answer.json["error"])

    def test_a_new_pin_or_an_end_signs_its_owner_out(self):
        browser = self.lead()
        path = "/set-up/tables/operator"
        for code in ("S1", "S2"):
            browser.send(path, path + "/add", {"code": code, "name": code, "role": "staff"})
            answer = browser.send(browser.page(f"{path}/entry?code={code}"), "/set-up/operator/pin",
                                  {"pin-how": "choose", "pin": "first chosen one"})
            self.assertEqual(200, answer.status, answer.text)
        one, two = self.station.browser(), self.station.browser()
        one.sign_in("S1", "first chosen one")
        two.sign_in("S2", "first chosen one")
        self.assertEqual(200, one.get("/set-up").status)
        browser.send(browser.page(f"{path}/entry?code=S1"), "/set-up/operator/pin", {"pin-how": "issue"})
        browser.send("/set-up/pin", "/set-up/pin")
        browser.send(browser.page(f"{path}/entry?code=S2"), path + "/retire", {"code": "S2"})
        for gone in (one, two):
            self.assertEqual(303, gone.get("/set-up").status)

    def test_a_badge_signs_in_for_less_than_a_pin(self):
        browser = self.lead()
        self.assertEqual(409, browser.get("/set-up/badge?operator=NOBO").status)
        badge = self.read(browser.get("/set-up/badge?operator=JT"))
        self.assertTrue(badge.startswith("LLO1.HJT.Z"), badge)
        self.assertTrue(self.read(browser.get("/set-up/shelf-tag?location=CAB1")).startswith("LLS1.LCAB1.Z"))
        bearer = self.station.browser()
        answer = bearer.post("/sign-in/badge", (bearer.form("/sign-in", "/sign-in/badge") | {"badge": badge}).items())
        self.assertEqual(200, answer.status, answer.text)
        self.assertEqual(200, bearer.get("/set-up").status)
        answer = bearer.get("/set-up/tables/operator", headers={"Accept": "application/json"})
        self.assertEqual((403, "pin-needed"), (answer.status, answer.json["error"]))
        other = badge[:-1] + ("0" if badge[-1] != "0" else "1")
        forged = bearer.post("/sign-in/badge", (bearer.form("/sign-in", "/sign-in/badge") | {"badge": other}).items())
        self.assertEqual("badge-not-authentic", forged.json["error"])

    def read(self, answer):
        """The one symbol of a PDF that was given out."""
        self.assertEqual((200, b"%PDF"), (answer.status, answer.body[:4]), answer.body[:300])
        pdf = pathlib.Path(self.folder.name) / "paper.pdf"
        pdf.write_bytes(answer.body)
        pages = picture.pages_of(pdf)
        self.assertEqual(1, len(pages))
        lines = office.run("read", pages[0].save(pdf.with_suffix(".png"))).lines
        self.assertEqual(1, len(lines), lines)
        return lines[0]["text"]

    def test_label_templates_are_shown_and_tried(self):
        browser = self.lead()
        page = browser.page("/set-up/labels")
        for name in ("a4-24", "badge", "shelf-tag", "tray-card"):
            self.assertIn(f"picture?template={name}", page)
            shown = browser.get(f"/set-up/labels/picture?template={name}")
            self.assertEqual(b"\x89PNG", shown.body[:4], shown.body[:300])
        pdf = browser.get("/set-up/labels/test-page?template=a4-24&x=0.5&y=-1")
        self.assertEqual(b"%PDF", pdf.body[:4])
        for address in ("picture?template=..%2Fwords", "test-page?template=none", "test-page?template=a4-24&x=far",
                        "test-page?template=a4-24&x=99"):
            self.assertEqual(400, browser.get("/set-up/labels/" + address).status, address)
        text = (office.SOURCE / "templates/labels/badge.label").read_text()
        form = [*browser.form(page, "/set-up/labels/try").items()]
        form = [pair for pair in form if pair[0] != "once"]
        self.assertEqual(b"\x89PNG", browser.post("/set-up/labels/try", [*form, ("text", text)]).body[:4])
        huge = text.replace("grid=2,5", "grid=999,999").replace("pitch=85.6,54 cell=85.6,54", "pitch=0.2,0.2 cell=0.2,0.2")
        self.assertEqual(400, browser.post("/set-up/labels/try", [*form, ("text", huge)]).status)
        for wrong in ("", "loadlight-label 1\nfor <b>\n", text.replace("symbol badge", "symbol package"), "x" * 70000):
            answer = browser.post("/set-up/labels/try", [*form, ("text", wrong)])
            self.assertEqual((400, "bad-template"), (answer.status, answer.json["error"]))

    def test_a_backup_is_an_office(self):
        browser = self.lead()
        given = browser.get("/set-up/backup/archive")
        self.assertEqual((200, "application/x-tar"), (given.status, given.headers["content-type"]))
        with tempfile.TemporaryDirectory() as folder:
            with tarfile.open(fileobj=io.BytesIO(given.body)) as archive:
                self.assertEqual({"record.db", "keys.json", "pins.json"}, set(archive.getnames()))
                self.assertTrue(all(member.mode == 0o600 for member in archive))
                archive.extractall(folder, filter="data")
            back = office.Office(folder)
            self.assertEqual(0, back.run("ledger", "verify").status)
            self.assertEqual(self.office.ok("contents", "list"), back.ok("contents", "list"))
        self.assertEqual([], [path.name for path in self.office.folder.glob("*copy*")])
        staff = self.station.browser()
        staff.sign_in("JT", self.staff_pin)
        answer = staff.get("/set-up/backup/archive", headers={"Accept": "application/json"})
        self.assertEqual("lead-required", answer.json["error"])

    def test_a_sterilizer_goes_out_of_service_and_back(self):
        browser = self.lead()
        entry = "/set-up/tables/sterilizer/entry?code=N1"
        out = browser.send(browser.page(entry), "/set-up/sterilizer/out", {"why": "door leaks"})
        self.assertEqual(200, out.status, out.text)
        back = browser.send(browser.page(entry), "/set-up/sterilizer/return", {"note": "new seal"})
        self.assertEqual(200, back.status, back.text)
        done = browser.send(browser.page(entry), "/set-up/sterilizer/service",
                            {"kind": "maintenance", "note": NASTY, "next-due": "2099-01-01", "counter-reset": "yes"})
        self.assertEqual(200, done.status, done.text)
        page = browser.page(entry)
        self.assertIn("door leaks", page)
        self.assertNotIn("<script>alert", page)
        bad = browser.send(page, "/set-up/sterilizer/service", {"kind": "returned", "note": "x"})
        self.assertEqual("bad-value", bad.json["error"])

    def test_a_stock_is_rated_by_its_sheet(self):
        browser = self.lead()
        path = "/set-up/tables/stock"
        browser.send(path, path + "/add", {"code": "RAW", "name": "Raw", "method": "laser", "dpi": "600"})
        entry = browser.page(path + "/entry?code=RAW")
        self.assertEqual("reason-missing", browser.send(entry, "/set-up/stock/rate",
                                                        {"rating": "maker-sheet", "note": ""}).json["error"])
        self.assertEqual(200, browser.send(entry, "/set-up/stock/rate",
                                           {"rating": "maker-sheet", "note": "Sheet, page 1"}).status)
        browser.send(path, path + "/add", {"code": "HOT", "name": "Hot", "method": "direct-thermal", "dpi": "203"})
        self.assertNotIn("/set-up/stock/rate", browser.page(path + "/entry?code=HOT"))

    def test_a_profile_s_value_is_set_with_its_reason(self):
        browser = self.lead()
        page = browser.page("/set-up/profile")
        self.assertIn("MMWR 52(RR-17) 2003", page)
        for fields, code in (({"value": "hold", "why": ""}, "reason-missing"), ({"value": "x", "why": "x"}, "bad-value")):
            answer = browser.send(page, "/set-up/profile", {"name": "above-band"} | fields)
            self.assertEqual(code, answer.json["error"], answer.text)
        answer = browser.send(page, "/set-up/profile", {"name": "above-band", "value": "hold", "why": NASTY})
        self.assertEqual(200, answer.status, answer.text)
        self.assertNotIn("<script>alert", browser.page("/set-up/profile"))

    def test_tablets_are_told_how_when_the_station_does_not_listen_to_them(self):
        self.assertIn("--lan", self.station.browser().page("/set-up/tablets"))
        self.assertEqual(404, self.station.browser().get("/authority.crt").status)


class Pins(unittest.TestCase):
    """Wrong PINs cost longer and longer, and in the end lock out."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.office = office.Office(self.folder.name + "/office").fill()
        self.pin = self.office.ok("operator", "pin", "JT", operator="MB")[0]["pin"]
        self.book = self.office.folder / "pins.json"
        self.station = station.Station(self.office.folder)
        self.addCleanup(self.station.stop)

    def try_pin(self, pin):
        return self.station.browser().send("/sign-in", "/sign-in", {"operator": "JT", "pin": pin}).json

    def set_wrong(self, wrong, last_wrong=0):
        book = json.loads(self.book.read_text())
        for entry in book["pins"]:
            entry |= {"wrong": wrong, "last_wrong": last_wrong}
        self.book.write_text(json.dumps(book))

    def test_the_wait_doubles_and_an_old_one_is_over(self):
        for wrong, seconds in ((0, None), (1, None), (2, 1), (3, 2), (6, 16), (11, 512), (12, 1024), (60, 1024)):
            with self.subTest(wrong=wrong):
                self.set_wrong(wrong)
                answer = self.try_pin("000000")
                self.assertEqual("pin-wrong", answer["error"])
                if seconds:
                    self.assertIn(f"{seconds} seconds", answer["action"])
        self.assertEqual("pin-wait", self.try_pin(self.pin)["error"])  # the right one too soon
        self.set_wrong(60)
        self.assertIn("go", self.try_pin(self.pin))
        self.assertEqual(0, json.loads(self.book.read_text())["pins"][0]["wrong"])

    def test_a_hundred_wrong_ones_lock_out_until_a_new_pin(self):
        self.set_wrong(99)
        self.assertEqual("pin-wrong", self.try_pin("000000")["error"])
        self.assertEqual("pin-locked", self.try_pin(self.pin)["error"])
        new = self.office.ok("operator", "pin", "JT", operator="MB")[0]["pin"]
        self.assertIn("go", self.try_pin(new))

    def test_a_damaged_book_lets_nobody_in(self):
        self.book.write_text("{")
        self.assertEqual("pins-unreadable", self.try_pin(self.pin)["error"])


if __name__ == "__main__":
    office.main()
