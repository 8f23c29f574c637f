"""Labels from outside: papers and templates, printing again to the same bytes, replacing, voiding, refusing."""

import json
import subprocess

import office
import picture

LOCALES = ({"LC_ALL": "C"}, {"LC_ALL": "de_DE.UTF-8"})


class Labels(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.made = office.filled_office(cls)

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")

    def print_three(self, *more):
        self.first = self.folder / "first.pdf"
        return self.office.labels(self.office.open_load(), 3, "EXAM", self.first, *more)

    def state(self, package):
        return office.codes(self.office.run("check", "--id", package).lines[0])


class Printing(Labels):
    def test_every_template_for_packages_prints_and_reads_back(self):
        for template in ("a4-24", "letter-3x10", "roll-57x32", "roll-25x54", "wrap-100x50"):
            with self.subTest(template):
                pdf = self.folder / f"{template}.pdf"
                labels = self.office.labels(self.office.open_load(), 3, "EXAM", pdf, "--template", template)
                read = self.read(pdf, picture.pages_of(pdf))
                self.assertEqual(sorted(text for text in read if text.startswith("LL1.")),
                                 sorted(label["payload"] for label in labels))

    def read(self, pdf, pages):
        files = [page.save(pdf.with_suffix(f".{number}.png")) for number, page in enumerate(pages)]
        return [line["text"] for line in office.run("read", *files).lines]

    def test_a_partly_used_sheet_begins_at_any_cell(self):
        labels = self.print_three("--template", "a4-24", "--first-cell", "23")
        self.assertEqual([label["cell"] for label in labels], [23, 24, 25])
        self.assertEqual(len(picture.pages_of(self.first, 50)), 2)

    def test_what_is_no_cell_no_template_or_no_nudge_is_refused(self):
        for error, options in (("cell-outside-sheet", ["--template", "a4-24", "--first-cell", "25"]),
                               ("cell-outside-sheet", ["--template", "a4-24", "--first-cell", "0"]),
                               ("template-unknown", ["--template", "../words/en"]),
                               ("template-unknown", ["--template", "shelf-tag"]),
                               ("bad-value", ["--nudge", "1"]), ("bad-value", ["--nudge", "1,nan"]),
                               ("bad-value", ["--count", "501"])):
            with self.subTest(options):
                count = [] if "--count" in options else ["--count", "1"]
                self.refused(error, 2, *count, *options)

    def refused(self, error, status, *options, contents="EXAM", kind="P", packed=("--packed",)):
        load, before, out = self.office.open_load(), self.office.events(), self.folder / "refused.pdf"
        reply = self.office.run("label", "--contents", contents, "--load", load, "--kind", kind, *packed,
                                "--out", out, *options)
        self.check_failure(reply, error, status)
        self.assertFalse(out.exists())
        self.assertEqual(self.office.events(), before)
        return reply

    def test_stock_goes_through_steam_only_when_somebody_says_why(self):
        self.office.ok("stock", "add", "QUICK", "--name", "q", "--method", "direct-thermal", "--dpi", "203")
        self.office.ok("stock", "add", "PAPER", "--name", "p", "--method", "laser", "--dpi", "600")
        self.refused("stock-direct-thermal", 20, "--stock", "QUICK")
        self.refused("stock-unrated", 20, "--stock", "PAPER")
        self.check_failure(self.office.run("stock", "rate", "QUICK", "--by", "trial", "--note", "x"),
                           "stock-direct-thermal", 20)
        self.office.ok("stock", "rate", "PAPER", "--by", "trial", "--note", "three cycles, still read")
        self.office.labels(self.office.open_load(), 1, "EXAM", None, "--stock", "PAPER")

    def test_the_packing_steps_are_acknowledged_or_listed(self):
        reply = self.refused("packing-not-acknowledged", 20, packed=())
        self.assertGreaterEqual(len(reply.lines[0]["items"]), 5)

    def test_unwrapped_items_carry_no_label(self):
        self.refused("kind-takes-no-label", 20, kind="U")

    def test_a_contents_that_cannot_fit_is_no_silent_cut(self):
        self.office.ok("contents", "add", "LONG", "--name", "Periodontal surgery cassette " * 6)
        self.refused("field-does-not-fit", 20, "--template", "roll-25x54", contents="LONG")

    def test_a_pdf_does_not_go_over_the_record_or_the_keys(self):
        for name in ("record.db", "keys.json"):
            out = self.office.folder / name
            before = out.read_bytes()
            for verb in (["--contents", "EXAM", "--load", "S1-1", "--kind", "P", "--packed"], ["test-page"],
                         ["shelf-tag", "--location", "CAB1"]):
                with self.subTest(verb):
                    self.check_failure(self.office.run("label", *verb, "--out", out), "bad-value", 2)
                    self.assertEqual(out.read_bytes(), before)
        self.office.ok("label", "test-page", "--out", self.office.folder / "page.pdf")

    def test_a_pdf_that_cannot_be_written_leaves_no_package(self):
        load = self.office.open_load()
        before = self.office.events()
        reply = self.office.run("label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed",
                                "--out", self.folder / "none" / "x.pdf")
        self.check_failure(reply, "file-unwritable", 1)
        self.assertEqual(self.office.events(), before)
        self.assertEqual(self.office.ok("load", "show", load)[0]["packages"], [])

    def test_test_page_shelf_tag_and_tray_card(self):
        load = self.office.open_load()
        for name, options in (("test-page", ["--nudge", "0.5,-1"]), ("shelf-tag", ["--location", "CAB1"]),
                              ("tray-card", ["--load", load, "--contents", "EXAM", "--count", "4"])):
            with self.subTest(name):
                out = self.folder / f"{name}.pdf"
                self.office.ok("label", name, *options, "--out", out)
                subprocess.run(["qpdf", "--check", out], check=True, capture_output=True)
        tag = self.read(self.folder / "shelf-tag.pdf", picture.pages_of(self.folder / "shelf-tag.pdf"))
        self.assertEqual([text[:9] for text in tag], ["LLS1.LCAB"])
        checked = self.office.run("check", "--text", tag[0])
        self.assertEqual((checked.status, office.codes(checked.lines[0])), (10, ["not-a-package-label"]))


class Again(Labels):
    def reprint(self, *options, env=None):
        out = self.office.pdf()
        reply = self.office.run("label", "reprint", *options, "--out", out, env=env)
        self.assertEqual(reply.status, 0, reply.out)
        return out.read_bytes(), reply.lines

    def test_a_whole_run_printed_again_is_the_same_bytes_under_any_locale(self):
        for template, nudge in (("a4-24", "0.3,-0.4"), ("roll-57x32", "0.12345,-0.00049"), ("wrap-100x50", "0,0")):
            labels = self.print_three("--template", template, "--nudge", nudge)
            for env in (*LOCALES, LOCALES[0]):
                with self.subTest(template=template, **env):
                    again, lines = self.reprint(labels[0]["package"], "--whole-run", env=env)
                    self.assertEqual(again, self.first.read_bytes())
                    self.assertEqual(lines, labels)

    def test_all_packages_named_or_all_cells_are_the_same_bytes_too(self):
        labels = self.print_three("--template", "a4-24", "--first-cell", "7")
        everything = [label["package"] for label in reversed(labels)]
        self.assertEqual(self.reprint(*everything)[0], self.first.read_bytes())
        self.assertEqual(self.reprint(everything[0], "--cells", "7-9")[0], self.first.read_bytes())

    def test_a_jammed_strip_is_printed_again_by_cells(self):
        labels = self.print_three("--template", "a4-24")
        once, lines = self.reprint(labels[0]["package"], "--cells", "2,3")
        self.assertEqual(lines, labels[1:])
        for env in LOCALES:
            self.assertEqual(self.reprint(labels[0]["payload"], "--cells", "2-3", env=env)[0], once)

    def test_a_first_print_says_the_same_under_any_locale(self):
        said = []
        for number, env in enumerate(LOCALES):
            copy = self.office.copied_to(self.folder / f"copy-{number}")
            copy.at = "2027-03-08 09:00:00"
            out, load = copy.pdf(), copy.open_load()
            label = copy.ok("label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed", "--out", out,
                            env=env)[0]
            text = subprocess.run(["pdftotext", "-layout", out, "-"], check=True, capture_output=True, text=True).stdout
            package = label["package"]
            said.append(text.replace(f"{package[:3]}-{package[3:6]}-{package[6:]}", "ID"))
        self.assertEqual(said[0], said[1])
        for word in ("Basic exam set", "2027-03-08", "2027-09-04", "S1-1", "JT", "ID"):
            self.assertIn(word, said[0])

    def test_a_cell_outside_the_run_and_packages_of_two_runs_are_refused(self):
        labels, others = self.print_three(), self.print_three()
        for options in ([labels[0]["package"], "--cells", "9"], [labels[0]["package"], others[0]["package"]]):
            reply = self.office.run("label", "reprint", *options, "--out", self.folder / "x.pdf")
            self.check_failure(reply, "bad-value", 2)

    def test_a_replacement_voids_the_old_label_in_one_event(self):
        labels = self.print_three()
        old = labels[0]["package"]
        before = len(self.office.events())
        new = self.office.ok("label", "replace", labels[0]["payload"], "--contents", "TIPS", "--out", self.office.pdf())[0]
        self.assertNotEqual(new["package"], old)
        self.assertEqual(len(self.office.events()), before + 1)
        self.assertIn("label-void", self.state(old))
        self.assertEqual(self.state(new["package"]), ["never-in-a-load"])
        self.assertEqual(self.office.run("check", "--id", new["package"]).lines[0]["contents"], "TIPS")

    def test_a_void_label_never_returns(self):
        labels = self.print_three()
        package = labels[0]["package"]
        voided = self.office.ok("label", "void", package, labels[1]["payload"], "--why", "torn")
        self.assertEqual([line["state"] for line in voided], ["void", "void"])
        for verb in (["label", "void", package], ["label", "reprint", package, "--out", self.folder / "x.pdf"],
                     ["label", "replace", package, "--out", self.folder / "x.pdf"], ["load", "add", labels[0]["load"], package],
                     ["withdraw", package, "--why", "torn"]):
            with self.subTest(verb):
                self.check_failure(self.office.run(*verb), "package-wrong-state", 20)

    def test_a_label_for_another_load_is_met_at_the_sterilizer(self):
        labels = self.print_three()
        other = self.office.open_load()
        before = self.office.events()
        reply = self.office.run("load", "add", other, *[label["package"] for label in labels])
        self.check_failure(reply, "labels-name-another", 20)
        self.assertEqual(len(reply.lines[0]["items"]), 3)
        self.assertIn("label replace", reply.lines[0]["action"])
        self.assertEqual(self.office.events(), before)
        new = self.office.ok("label", "replace", labels[0]["package"], "--load", other, "--out", self.office.pdf())[0]
        self.office.ok("load", "add", other, new["package"])

    def test_an_event_of_a_print_tells_its_packing_steps(self):
        self.print_three()
        event = self.office.events()[-1]
        self.assertEqual(event["kind"], "labels-printed")
        self.assertIn("packing", json.dumps(event["body"]["details"]))


if __name__ == "__main__":
    office.main()
