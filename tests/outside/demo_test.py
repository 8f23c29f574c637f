"""The invented office: its cases answer as their names say, and a printed sheet is read back whole."""

import subprocess
import tempfile
import pathlib

import office

# What each case of `init --demo` must answer (the design's table of package reasons).
CASES = {
    "expired": (20, "do-not-use", ["past-use-by"]),
    "clear": (0, "clear", []),
    "hold": (10, "hold", ["load-not-released"]),
    "quarantined": (10, "hold", ["load-quarantined"]),
    "failed": (20, "do-not-use", ["load-failed"]),
    "recalled": (20, "do-not-use", ["load-recalled"]),
    "forged": (20, "do-not-use", ["label-not-authentic"]),
    "opened": (20, "do-not-use", ["already-opened"]),
    "withdrawn": (20, "do-not-use", ["withdrawn"]),
    "never-loaded": (20, "do-not-use", ["never-in-a-load"]),
    "void": (20, "do-not-use", ["label-void", "load-not-started"]),
}
CELLS_OF_A_SHEET = 24


class DemoOffice(office.Case):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(folder.cleanup)
        cls.made = office.Office(pathlib.Path(folder.name) / "office")
        cls.cases = cls.made.ok("init", "--demo", "--zone", "UTC")

    def test_every_case_is_printed_once(self):
        self.assertEqual(sorted(line["case"] for line in self.cases), sorted(CASES))
        for line in self.cases:
            self.assertEqual(set(line), {"case", "package", "payload", "load"})

    def test_every_case_answers_as_its_name_says(self):
        for line in self.cases:
            with self.subTest(line["case"]):
                status, outcome, reasons = CASES[line["case"]]
                reply = self.made.run("check", "--text", line["payload"])
                self.assertEqual((reply.status, reply.lines[0]["outcome"]), (status, outcome))
                self.assertEqual(office.codes(reply.lines[0]), reasons)
                self.assertEqual(reply.lines[0]["package"], line["package"])

    def test_its_record_is_whole(self):
        self.assertEqual(self.made.ok("ledger", "verify"), [])

    def test_a_sheet_is_read_back_each_label_once(self):
        load = self.made.open_load()
        pdf, picture = self.folder / "sheet.pdf", self.folder / "sheet"
        labels = self.made.labels(load, CELLS_OF_A_SHEET, "EXAM", pdf, "--stock", "SHEET",
                                  "--template", "a4-24")
        subprocess.run(["pdftoppm", "-r", "200", "-png", "-singlefile", pdf, picture], check=True)
        payloads = sorted(label["payload"] for label in labels)
        read = office.run("read", f"{picture}.png")
        self.assertEqual((read.status, sorted(line["text"] for line in read.lines)), (0, payloads))
        checked = self.made.run("check", "--image", f"{picture}.png")
        self.assertEqual(sorted(line["package"] for line in checked.lines),
                         sorted(label["package"] for label in labels))
        self.assertEqual({tuple(office.codes(line)) for line in checked.lines}, {("never-in-a-load",)})
        self.assertEqual(checked.status, 20)


if __name__ == "__main__":
    office.main()
