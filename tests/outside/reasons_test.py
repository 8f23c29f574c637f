"""Every reason at its boundary, played through the command line with the clock where the row puts it.

reasons.csv (packages at the chair) and releases.csv (loads at their release) are written by hand from the
design's tables of reasons; scene.py plays them. The clock is libfaketime's and stands still.
"""

import csv
import json
import pathlib
import tempfile

import office
import scene

HERE = pathlib.Path(__file__).parent
STATUS = {"clear": 0, "hold": 10, "do-not-use": 20}
MADE_AT = "2026-01-05 08:00:00"  # before every row
RELEASES_START = "2027-03-08 09:00:00"

RELEASE_ONLY = {
    "biological-positive", "program-not-allowed", "exposure-short", "external-indicator-failed",
    "daily-test-failed", "sterilizer-out-of-service", "mechanical-evidence-missing",
    "mechanical-evidence-incomplete", "external-indicator-unread", "drying-short", "wet-packages",
    "consumable-expired", "consumable-recalled", "daily-test-missing", "biological-invalid", "biological-awaited",
    "steam-not-saturated", "temperature-above-band",
}
# A label of which the record tells what it is likely to be: no check asks that; audit_test.py does.
OF_AUDITS = {"label-not-read"}
OF_BOTH = {"load-aborted", "load-running", "clock-behind-record", "incident-open"}


def rows_of(name):
    with open(HERE / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def worded_reasons():
    words = json.loads((office.SOURCE / "templates/words/en.json").read_text(encoding="utf-8"))
    return {key.split(".")[1] for key in words if key.startswith("reason.") and key.endswith(".text")}


def expected(row):
    return row["outcome"], row["reasons"].split()


class Reasons(office.Case):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(folder.cleanup)
        cls.shelf, cls.made = pathlib.Path(folder.name), {}

    def office_for(self, options, name):
        """A copy of the office that these options of `init` make."""
        if options not in self.made:
            made = office.Office(self.shelf / f"office-{len(self.made)}", at=MADE_AT)
            self.made[options] = made.fill(*options.split())
        return self.made[options].copied_to(self.folder / name)

    def check_package_row(self, row, name):
        template = "wrap-100x50" if row["seen"] == "chart-copy" else "roll-57x32"
        play = scene.Scene(self.office_for(row["office"], name), row["steps"], row["started"], template)
        play.office.at = row["checked"]
        reply = play.see(row["seen"])
        line = next((line for line in reply.lines if line["package"] == play.packages[0]), reply.lines[0])
        self.assertEqual((line["outcome"], office.codes(line)), expected(row))
        self.assertEqual(reply.status, STATUS[row["outcome"]])
        if row["use_by"]:
            self.assertEqual(line["use_by"], row["use_by"])
        self.check_caught(reply)

    def test_packages_at_the_chair(self):
        """R38, R40, R41, R42, R48"""
        for number, row in enumerate(rows_of("reasons.csv")):
            with self.subTest(f"{row['reason']}: {row['boundary']}"):
                self.check_package_row(row, f"row-{number}")

    def test_loads_at_their_release(self):
        """R21, R23, R25, R27, R29, R31, R32, R37, R44"""
        for number, row in enumerate(rows_of("releases.csv")):
            with self.subTest(f"{row['reason']}: {row['boundary']}"):
                play = scene.Scene(self.office_for(row["office"], f"row-{number}"), row["steps"], RELEASES_START)
                reply = play.office.run("load", "release", play.load)
                self.assertEqual((reply.lines[0]["outcome"], office.codes(reply.lines[0])), expected(row))
                self.assertEqual(reply.status, STATUS[row["outcome"]])
                self.check_caught(reply)


class Tables(office.Case):
    def check_rows(self, name, reasons):
        """Each reason has a row that expects it; no row expects or names a reason of elsewhere."""
        rows = rows_of(name)
        produced = {reason for row in rows for reason in row["reasons"].split()}
        self.assertEqual(produced, reasons)
        self.assertEqual({row["reason"] for row in rows} - {""}, reasons)

    def test_every_package_reason_has_a_row(self):
        self.check_rows("reasons.csv", worded_reasons() - RELEASE_ONLY - OF_AUDITS)

    def test_every_release_reason_has_a_row(self):
        self.assertLessEqual(RELEASE_ONLY, worded_reasons())
        self.check_rows("releases.csv", RELEASE_ONLY | OF_BOTH)


if __name__ == "__main__":
    office.main()
