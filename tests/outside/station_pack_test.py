"""Packing at the station: choosing, looking, printing, printing again, voiding, replacing."""

import html
import re
import tempfile
import unittest
import urllib.parse

import office
import picture
import station

ORDER = {"contents": "EXAM", "kind": "P", "count": "2", "load": "S1-1", "packed": "yes"}


class Packing(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office").fill()
        cls.office.ok("contents", "add", "EVIL", "--name", "<img src=x onerror=alert(1)>", "--items",
                      "<script>alert(2)</script>", operator="MB")
        cls.office.ok("contents", "add", "RARE", "--name", "Rare set", operator="MB")
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
        self.browser.sign_in("JT", self.pins["JT"])

    def next_load(self, sterilizer="S1"):
        numbers = re.findall(rf'name="load" value="{sterilizer}-(\d+)"', self.browser.page("/pack"))
        return f"{sterilizer}-{numbers[-1]}"

    def print_labels(self, **more):
        order = ORDER | {"load": self.next_load()} | more
        return self.browser.send("/pack", "/pack/print", {k: v for k, v in order.items() if v is not None})

    def printed(self, **more):
        """The run's path, its page, and the PDF it offers."""
        answer = self.print_labels(**more)
        self.assertEqual(200, answer.status, answer.text)
        return self.follow(answer)

    def follow(self, answer):
        path = answer.json["go"]
        page = self.browser.page(path)
        paper = self.browser.get(re.search(r'href="(/pack/papers/[^"]+)"', page)[1])
        self.assertEqual((200, "application/pdf"), (paper.status, paper.headers["content-type"]))
        return path.split("?")[0], page, paper.body

    def texts_of(self, pdf):
        path = self.office.pdf()
        path.write_bytes(pdf)
        files = [page.save(path.with_name(f"{path.stem}-{i}.png")) for i, page in enumerate(picture.pages_of(path))]
        return sorted(line["text"] for line in office.run("read", *files).lines)

    def payloads(self, page):
        return re.findall(r'name="package" value="([0-9A-Z]{10})"', page)

    def test_without_signing_in_nothing_is_shown_or_printed(self):
        stranger = self.station.browser()
        self.assertEqual(303, stranger.get("/pack").status)
        for path in ("/pack/steps?contents=EXAM&kind=P", "/pack/preview", "/pack/preview/picture", "/pack/runs"):
            self.assertEqual(401, stranger.get(path, headers={"Accept": "application/json"}).status)
        self.assertEqual(401, stranger.post("/pack/print", ORDER.items()).status)

    def test_labels_are_printed_and_read_as_they_are_recorded(self):
        load = self.next_load()
        path, page, pdf = self.printed(count="3", load=load)
        ids = self.payloads(page)
        self.assertEqual(3, len(ids))
        read = self.texts_of(pdf)
        self.assertEqual(3, len(read))
        for text in read:
            verdict = self.office.run("check", "--text", text).lines[0]
            self.assertEqual("do-not-use", verdict["outcome"])
            self.assertEqual(["never-in-a-load"], [reason["code"] for reason in verdict["reasons"]])
            self.assertIn(verdict["package"], ids)
            self.assertEqual(load, verdict["load"])
        self.assertIn(path, self.browser.page("/pack/runs"))

    def test_the_steps_are_those_of_the_command_and_must_be_acknowledged(self):
        wanted = self.office.run("label", "--contents", "EXAM", "--kind", "P", "--load", self.next_load(), "--out",
                                 self.office.pdf())
        self.assertEqual(20, wanted.status)
        steps = self.browser.get("/pack/steps?contents=EXAM&kind=P").json["steps"]
        self.assertGreater(len(steps), 3)
        answer = self.print_labels(packed=None)
        self.assertEqual((409, "packing-not-acknowledged"), (answer.status, answer.json["error"]))
        self.assertEqual(steps, answer.json["items"])
        self.assertNotIn("--packed", answer.json["action"])

    def test_what_is_refused_changes_nothing(self):
        before = self.browser.page("/pack/runs")
        load = self.next_load()
        number = int(load.split("-")[1])
        for more, error in (({"count": "0"}, "bad-value"), ({"count": "501"}, "bad-value"),
                            ({"count": "many"}, "bad-value"), ({"count": "2e1"}, "bad-value"),
                            ({"contents": "NONE"}, "code-unknown"), ({"contents": ""}, "code-unknown"),
                            ({"kind": "U"}, "kind-takes-no-label"), ({"load": "S1"}, "bad-load-name"),
                            ({"load": f"S1-{number + 1}"}, "load-number-out-of-sequence"),
                            ({"load": "S9-1"}, "code-unknown"), ({"template": "../words/en"}, "template-unknown"),
                            ({"template": "shelf-tag"}, "template-unknown"),
                            ({"stock": "QUICK"}, "stock-direct-thermal"), ({"stock": "NONE"}, "code-unknown"),
                            ({"first_cell": "2"}, "cell-outside-sheet"), ({"nudge_x": "10.5"}, "bad-value"),
                            ({"nudge_y": "nan"}, "bad-value"),
                            ({"printer": "nowhere"}, "code-unknown")):
            with self.subTest(more):
                answer = self.print_labels(**more)
                self.assertEqual(error, answer.json.get("error"), answer.text)
                self.assertGreaterEqual(answer.status, 400)
        self.assertEqual(load, self.next_load())
        self.assertEqual(before.count('class="line"'), self.browser.page("/pack/runs").count('class="line"'))

    def test_an_old_label_chooses_as_it_was_packed(self):
        _, _, pdf = self.printed(contents="TIPS")
        text = self.texts_of(pdf)[0]
        answer = self.browser.send("/pack", "/pack/label", {"label": text})
        self.assertEqual({"contents": "TIPS", "kind": "P"}, answer.json)
        for given, error in ((text[:-1] + ("0" if text[-1] != "0" else "1"), "label-not-authentic"),
                             ("SAMPLE", "bad-package-id"), ("", "bad-package-id"), ("LLC1.X", "bad-package-id")):
            with self.subTest(given):
                answer = self.browser.send("/pack", "/pack/label", {"label": given})
                self.assertEqual(error, answer.json["error"])

    def test_what_is_packed_often_comes_first(self):
        for _ in range(2):
            self.printed(contents="IMPL", count="1")
        page = self.browser.page("/pack")
        order = re.findall(r'name="contents" value="(\w+)"', page)
        self.assertLess(order.index("IMPL"), order.index("RARE"))
        tile = r'<label class="choice tile([^"]*)"><input[^>]*value="%s" data-kind="(\w*)"'
        self.assertEqual((" favourite", "P"), re.search(tile % "IMPL", page).groups())
        self.assertEqual(("", ""), re.search(tile % "RARE", page).groups())

    def test_the_preview_shows_samples_and_changes_nothing(self):
        load = self.next_load()
        before = len(self.office.ok("ledger", "export"))
        query = urllib.parse.urlencode({**ORDER, "load": load, "count": "30", "template": "a4-24", "first_cell": "5"})
        told = self.browser.get(f"/pack/preview?{query}").json
        self.assertEqual((20, 2, ""), (told["labels"], told["pages"], told["last_sheet"]))
        shown = self.browser.get(f"/pack/preview/picture?{query}")
        self.assertEqual("image/png", shown.headers["content-type"])
        self.assertTrue(shown.body.startswith(b"\x89PNG"))
        path = self.office.pdf().with_suffix(".png")
        path.write_bytes(shown.body)
        for line in office.run("read", path).lines:
            self.assertTrue(line["text"].startswith("SAMPLE - NOT A PACKAGE LABEL"), line)
        self.assertEqual(load, self.next_load())
        self.assertEqual(409, self.browser.get(f"/pack/preview?{query}&stock=QUICK".replace("template=a4-24&", ""),
                                               headers={"Accept": "application/json"}).status)
        self.assertEqual(before, len(self.office.ok("ledger", "export")))
        for line in self.office.run("check", "--image", path).lines:
            self.assertEqual("hold", line["outcome"])

    def test_a_sheet_that_was_begun_is_told(self):
        self.printed(template="letter-3x10", first_cell="4", count="7")
        query = urllib.parse.urlencode({**ORDER, "load": self.next_load(), "template": "letter-3x10"})
        self.assertIn("place 10", self.browser.get(f"/pack/preview?{query}").json["last_sheet"])

    def test_a_form_sent_twice_prints_once(self):
        fields = self.browser.form("/pack", "/pack/print") | ORDER | {"load": self.next_load()}
        first = self.browser.post("/pack/print", fields.items())
        second = self.browser.post("/pack/print", fields.items())
        self.assertEqual((200, first.json["go"]), (second.status, second.json["go"]))
        number = int(re.search(r"/pack/runs/(\d+)", first.json["go"])[1])
        self.assertEqual(404, self.browser.get(f"/pack/runs/{number + 1}").status)

    def test_a_whole_run_is_printed_again_byte_for_byte(self):
        path, _, pdf = self.printed(count="3")
        again = self.browser.send(path, path + "/reprint", {"whole": "yes", "destroyed": "yes"})
        self.assertEqual(200, again.status, again.text)
        self.assertIn("Destroy", self.browser.page(again.json["go"]))
        self.assertEqual(pdf, self.follow(again)[2])

    def test_chosen_labels_are_printed_again(self):
        path, page, pdf = self.printed(count="3")
        ids = self.payloads(page)
        again = self.browser.send(path, path + "/reprint", [("package", ids[1]), ("destroyed", "yes")])
        texts = self.texts_of(self.follow(again)[2])
        self.assertEqual([text for text in self.texts_of(pdf) if f".S{ids[1]}." in text], texts)
        nothing = self.browser.send(path, path + "/reprint", {"destroyed": "yes"})
        self.assertEqual("bad-value", nothing.json["error"])

    def test_a_void_label_never_comes_back(self):
        path, page, _ = self.printed(count="2")
        ids = self.payloads(page)
        unnamed = self.browser.send(path, path + "/void", [("package", ids[0]), ("why", "")])
        self.assertEqual("reason-missing", unnamed.json["error"])
        none = self.browser.send(path, path + "/void", [("why", "spoilt")])
        self.assertEqual("bad-value", none.json["error"])
        done = self.browser.send(path, path + "/void", [("package", ids[0]), ("why", "<b>spoilt</b>")])
        self.assertEqual(200, done.status, done.text)
        self.assertEqual([ids[1]], self.payloads(self.browser.page(path)))
        again = self.browser.send(path, path + "/reprint", [("package", ids[0]), ("destroyed", "yes")])
        self.assertEqual("package-wrong-state", again.json["error"])
        verdict = self.office.run("check", "--id", ids[0]).lines[0]
        self.assertIn("label-void", [reason["code"] for reason in verdict["reasons"]])

    def test_a_replaced_label_is_void_and_names_what_it_should(self):
        path, page, _ = self.printed(count="1")
        old = self.payloads(page)[0]
        where = f"/pack/packages/{old}/replace"
        answer = self.browser.send(where, where, {"contents": "TIPS", "kind": "P", "load": self.next_load(),
                                                  "destroyed": "yes"})
        self.assertEqual(200, answer.status, answer.text)
        _, _, pdf = self.follow(answer)
        self.assertIn(".PTIPS.", self.texts_of(pdf)[0])
        self.assertIn("label-void", [reason["code"] for reason in
                                     self.office.run("check", "--id", old).lines[0]["reasons"]])
        twice = self.browser.send(where, where, {"contents": "TIPS", "kind": "P", "load": self.next_load()})
        self.assertEqual("package-wrong-state", twice.json["error"])

    def test_texts_of_the_record_are_never_markup(self):
        self.printed(contents="EVIL", count="1")
        for path in ("/pack", "/pack/runs"):
            page = self.browser.page(path)
            self.assertNotIn("<img src=x", page)
            self.assertNotIn("<script>alert", page)
        self.assertIn(html.escape("<img src=x onerror=alert(1)>"), self.browser.page("/pack/runs"))

    def test_papers_and_runs_that_are_not_there(self):
        for path in ("/pack/papers/nothing", "/pack/runs/9999", "/pack/runs/x", "/pack/runs/-1", "/pack/jobs/none"):
            with self.subTest(path):
                self.assertEqual(404, self.browser.get(path, headers={"Accept": "application/json"}).status)


if __name__ == "__main__":
    office.main()
