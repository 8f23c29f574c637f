"""The sample cycle logs read in and judged through the command line, what no log may be, and what is printed
of one. "R" and a number: the requirement a check carries."""

import csv
import pathlib
import re
import subprocess
import tempfile
import xml.etree.ElementTree

import office

NOON = "2027-03-08 12:00:00"
SAMPLES = office.SOURCE / "samples" / "cycles"
GRAVITY, DYNAMIC, QUICK = ("G1", "gravity-121-wrapped"), ("S1", "dynamic-132-wrapped"), ("S1", "P134")

# As samples/cycles/README.md says of each: the mapping, the sterilizer and program, what its release answers.
LOGS = {
    "good-gravity-121.csv": ("plain-seconds", GRAVITY, 0, []),
    "good-prevac-134.csv": ("plain-seconds", QUICK, 0, []),
    "short-exposure.csv": ("plain-seconds", QUICK, 20, ["exposure-short"]),
    "temperature-dip.csv": ("plain-seconds", QUICK, 20, ["exposure-short"]),
    "sensor-gap.csv": ("plain-seconds", QUICK, 20, ["exposure-short"]),
    "trapped-air.csv": ("plain-seconds", QUICK, 10, ["steam-not-saturated"]),
    "superheat.csv": ("plain-seconds", QUICK, 10, ["steam-not-saturated"]),
    "aborted.csv": ("plain-seconds", QUICK, 20, ["exposure-short", "mechanical-evidence-incomplete"]),
    "wet-load.csv": ("plain-seconds", DYNAMIC, 10, ["drying-short"]),
    "decimal-commas.csv": ("card-comma", DYNAMIC, 0, []),
    "altitude-psi.csv": ("altitude-psi", GRAVITY, 0, []),
    "over-midnight.log": ("wall-clock", DYNAMIC, 0, []),
    "clock-put-back.tsv": ("dated-clock", DYNAMIC, 0, []),
    "clock-put-on.tsv": ("dated-clock", DYNAMIC, 0, []),
    "one-a-minute.txt": ("minute-strip", GRAVITY, 0, []),
}

CRITERIA = {"cycle-complete", "exposure", "lowest-temperature", "upper-limit", "fluctuation", "pressure-recorded",
            "saturation-superheat", "saturation-deficit", "drying", "sampling-gap"}


def longest_exposure(path, threshold, gap):
    """The longest row of samples (seconds, degrees) at or above the threshold, none further apart than `gap`."""
    with open(path, encoding="utf-8", newline="") as file:
        samples = [(float(row["seconds"]), float(row["celsius"])) for row in csv.DictReader(file)]
    runs = [[]]
    for seconds, celsius in samples:
        if celsius < threshold or (runs[-1] and seconds - runs[-1][-1][0] > gap):
            runs.append([])
        if celsius >= threshold:
            runs[-1].append((seconds, celsius))
    return max(runs, key=lambda run: run[-1][0] - run[0][0] if run else -1)


class Logs(office.Case):
    @classmethod
    def setUpClass(cls):
        folder = cls.enterClassContext(tempfile.TemporaryDirectory(prefix="loadlight-outside-"))
        cls.made = office.Office(pathlib.Path(folder) / "office", at=NOON).fill()
        cls.made.ok("sterilizer", "add", "G1", "--name", "Gravity unit", "--removal", "gravity", "--type", "S")
        cls.made.ok("program", "add", "P134", "--name", "134 wrapped", "--sterilizer", "S1", "--load-kind", "wrapped",
                    "--celsius", "134", "--exposure-minutes", "3", "--drying-minutes", "20",
                    "--document", "Invented instructions", "--page", "12", operator="MB")
        cls.made.test_of_the_day()

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")

    def finished(self, of=QUICK):
        return self.office.finished(1, "EXAM", *of)[0]

    def read(self, load, path, mapping="plain-seconds", *more):
        return self.office.run("load", "readings", load, "--log", path, "--mapping", mapping, *more)

    def judged(self, name):
        mapping, of, _, _ = LOGS[name]
        load = self.finished(of)
        self.assertEqual(self.read(load, SAMPLES / name, mapping).status, 0)
        self.office.ok("load", "indicator", load, *office.INDICATOR)
        return load, self.office.run("load", "release", load)

    def shown(self, load):
        return self.office.ok("load", "show", load)[0]


class Samples(Logs):
    def test_every_sample_is_judged_as_its_trait_asks(self):
        """R21, R29, R31, R32, R35"""
        self.assertEqual(set(LOGS), {path.name for path in SAMPLES.iterdir()} - {"README.md"})
        for name, (_, _, status, reasons) in LOGS.items():
            with self.subTest(name):
                _, reply = self.judged(name)
                self.assertEqual((reply.status, office.codes(reply.lines[0])), (status, reasons))

    def test_the_samples_readme_names_the_mapping_of_each(self):
        rows = [line.split("|") for line in (SAMPLES / "README.md").read_text(encoding="utf-8").splitlines()
                if line.startswith("| `")]
        self.assertEqual({row[1].strip(" `"): row[2].strip(" `") for row in rows},
                         {name: mapping for name, (mapping, _, _, _) in LOGS.items()})

    def test_every_criterion_has_its_value_limit_margin_and_source(self):
        """R29, R32, R35, R63"""
        load, _ = self.judged("good-prevac-134.csv")
        lines = self.shown(load)["criteria"]
        for line in lines:
            with self.subTest(line["criterion"]):
                self.assertEqual(set(line), {"criterion", "standing", "measured", "limit", "at_least", "margin", "unit",
                                             "source"})
                kept = line["measured"] - line["limit"] if line["at_least"] else line["limit"] - line["measured"]
                self.assertAlmostEqual(line["margin"], kept)
                self.assertEqual(line["standing"], "met" if kept >= 0 else "not-met")
                self.assertTrue(line["source"] and line["unit"])
        self.assertEqual({line["criterion"] for line in lines}, CRITERIA)
        sources = {line["criterion"]: line["source"] for line in lines}
        for asked_by_program in ("exposure", "lowest-temperature", "drying"):
            self.assertIn("Invented instructions", sources[asked_by_program])

    def test_what_was_measured_is_what_the_log_says(self):
        """R35: a naive reading of the file, 134 degrees and a margin of 0.5 K"""
        for name in ("good-prevac-134.csv", "short-exposure.csv", "temperature-dip.csv", "sensor-gap.csv"):
            with self.subTest(name):
                load, _ = self.judged(name)
                measured = {line["criterion"]: line["measured"] for line in self.shown(load)["criteria"]}
                longest = longest_exposure(SAMPLES / name, 134.5, 2 * 2)
                self.assertAlmostEqual(measured["exposure"], (longest[-1][0] - longest[0][0]) / 60)
                self.assertEqual(measured["lowest-temperature"], min(celsius for _, celsius in longest))
                self.assertEqual(measured["upper-limit"], max(celsius for _, celsius in longest))

    def test_a_gap_is_never_credited_and_is_noted(self):
        """R34, R35"""
        load, reply = self.judged("sensor-gap.csv")
        self.assertIn("log-has-gaps", reply.lines[0]["notes"])
        gap = next(line for line in self.shown(load)["criteria"] if line["criterion"] == "sampling-gap")
        self.assertEqual((gap["standing"], gap["limit"]), ("not-met", 4))

    def test_a_package_whose_label_is_as_old_as_the_loads_end_was_wrapped_in_it(self):
        """R31: on a clock that stands still drying is asked all the same"""
        load, _ = self.office.running()
        self.office.ok("load", "finish", load)
        self.read(load, SAMPLES / "wet-load.csv")
        self.office.ok("load", "indicator", load, *office.INDICATOR)
        self.assertEqual(office.codes(self.office.run("load", "release", load).lines[0]), ["drying-short"])


class Refused(Logs):
    """Nothing of a log that something speaks against is kept."""

    def setUp(self):
        super().setUp()
        self.load = self.finished()
        self.good = (SAMPLES / "good-prevac-134.csv").read_text(encoding="utf-8").splitlines()

    def check_refused(self, lines, error, *said, mapping="plain-seconds", status=2, end="\n"):
        log = self.folder / "log.csv"
        data = ("\n".join(lines) + end) if isinstance(lines, list) else lines
        log.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
        before = self.office.events()
        reply = self.read(self.load, log, mapping)
        self.check_failure(reply, error, status)
        told = " ".join([reply.lines[0]["text"], *reply.lines[0].get("items", [])])
        for word in said:
            self.assertIn(word, told)
        self.assertEqual(self.office.events(), before)
        self.assertEqual(self.shown(self.load)["criteria"], [])

    def changed(self, at, change):
        lines = list(self.good)
        lines[at] = change(lines[at])
        return lines

    def mapping(self, old, new):
        text = (office.SOURCE / "templates/mappings/plain-seconds.mapping").read_text(encoding="utf-8")
        self.assertIn(old, text)
        path = self.folder / "own.mapping"
        path.write_text(text.replace(old, new), encoding="utf-8")
        return path

    def test_a_temperature_in_the_wrong_unit_is_doubted(self):
        """R35: 134 in a column of degrees Fahrenheit, and Fahrenheit taken for Celsius"""
        self.check_refused(self.good, "bad-cycle-log", "135.3 °F", mapping=self.mapping("unit=C", "unit=F"))
        hot = [self.good[0]] + [f"{s},{float(c) * 1.8 + 32:.2f},{p}" for s, c, p in (row.split(",") for row in self.good[1:])]
        self.check_refused(hot, "bad-cycle-log", "°C")

    def test_a_pressure_in_the_wrong_unit_is_doubted(self):
        """R32"""
        self.check_refused(self.good, "bad-cycle-log", "ressure", mapping=self.mapping("unit=kPa", "unit=bar"))
        self.check_refused(self.good, "bad-cycle-log", "ressure", mapping=self.mapping("unit=kPa", "unit=mbar"))

    def test_a_log_cut_off_within_a_line_is_refused(self):
        self.check_refused("\n".join(self.good)[:-8], "bad-cycle-log", f"Line {len(self.good)}", "cut off")
        self.check_refused("\n".join(self.good[:300]) + "\n598,13", "bad-cycle-log", "Line 301")

    def test_times_that_go_back_are_refused(self):
        lines = list(self.good)
        lines[200], lines[210] = lines[210], lines[200]
        self.check_refused(lines, "bad-cycle-log", "Line 202")

    def test_one_time_with_two_values_is_refused(self):
        time = self.good[200].split(",")[0]
        self.check_refused(self.changed(201, lambda row: ",".join([time, *row.split(",")[1:]])), "bad-cycle-log",
                           "Line 202", f"{time}")

    def test_what_is_no_number_is_refused(self):
        for bad in ("nan", "NaN", "inf", "-inf", "1e999", "--", "134,5.1"):
            with self.subTest(bad):
                self.check_refused(self.changed(150, lambda row: f"{row.split(',')[0]},{bad},300.0"), "bad-cycle-log",
                                   "Line 151")

    def test_what_is_no_log_is_refused(self):
        self.check_refused([], "bad-cycle-log", end="")
        self.check_refused(self.good[:1], "bad-cycle-log")
        self.check_refused(["time;value", *self.good[1:]], "bad-cycle-log")
        self.check_refused("\n".join(self.good).encode("utf-16"), "bad-encoding")
        self.check_refused(self.good[:10], "bad-cycle-log", "readings")

    def test_what_is_no_file_and_no_mapping_is_told(self):
        for error, status, log, mapping in (("file-unreadable", 1, self.folder / "none.csv", "plain-seconds"),
                                            ("file-unreadable", 1, self.folder, "plain-seconds"),
                                            ("mapping-unknown", 2, SAMPLES / "wet-load.csv", "no-such"),
                                            ("mapping-unknown", 2, SAMPLES / "wet-load.csv", "../words/en.json"),
                                            ("bad-mapping", 2, SAMPLES / "wet-load.csv", SAMPLES / "README.md")):
            with self.subTest(error=error, mapping=mapping):
                self.check_failure(self.read(self.load, log, mapping), error, status)
        self.check_failure(self.office.run("load", "readings", self.load, "--log", SAMPLES / "wet-load.csv"),
                           "wrong-usage", 2)
        self.check_failure(self.read(self.load, SAMPLES / "wet-load.csv", "plain-seconds", "--low", "134"), "wrong-usage", 2)

    def test_a_second_log_of_a_load_needs_a_reason_and_both_are_kept(self):
        """R56"""
        self.assertEqual(self.read(self.load, SAMPLES / "short-exposure.csv").status, 0)
        before = self.office.events()
        self.check_failure(self.read(self.load, SAMPLES / "good-prevac-134.csv"), "result-differs", 20)
        self.assertEqual(self.office.events(), before)
        self.assertEqual(self.read(self.load, SAMPLES / "good-prevac-134.csv", "plain-seconds", "--why",
                                   "the log of the load before").status, 0)
        told = [event["body"]["details"]["file"] for event in self.office.events() if event["kind"] == "cycle-log-read"]
        self.assertEqual(told, ["short-exposure.csv", "good-prevac-134.csv"])
        self.assertEqual(self.office.ok("ledger", "verify"), [])


class Printed(Logs):
    """What is printed of a load with a log."""

    def setUp(self):
        super().setUp()
        self.load, _ = self.judged("good-prevac-134.csv")
        self.package = self.shown(self.load)["packages"][0]["package"]

    def check_pdf(self, pdf):
        subprocess.run(["qpdf", "--check", pdf], check=True, capture_output=True)
        text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True).stdout
        info = subprocess.run(["pdfinfo", pdf], check=True, capture_output=True, text=True).stdout
        return int(re.search(r"^Pages: +(\d+)", info, re.MULTILINE).group(1)), text

    def test_a_loads_record_is_one_page(self):
        """R19, R61"""
        for paper in ("A4", "letter"):
            pdf = self.folder / f"{paper}.pdf"
            self.office.ok("load", "report", self.load, "--out", pdf, "--paper", paper)
            pages, text = self.check_pdf(pdf)
            self.assertEqual(pages, 1)
            grouped = f"{self.package[:3]}-{self.package[3:6]}-{self.package[6:]}"
            for word in (self.load, grouped, "JT", "CI-0417", "P134", "us-cdc-2003", "Invented instructions"):
                self.assertIn(word, text)

    def test_a_cycle_is_drawn_as_well_formed_svg(self):
        """R61"""
        svg = self.folder / "cycle.svg"
        self.office.ok("load", "plot", self.load, "--svg", svg)
        root = xml.etree.ElementTree.parse(svg).getroot()
        self.assertEqual(root.tag, "{http://www.w3.org/2000/svg}svg")
        texts = " ".join("".join(each.itertext()) for each in root.iter("{http://www.w3.org/2000/svg}text"))
        for word in (self.load, "saturated steam", "exposure", "kPa absolute"):
            self.assertIn(word, texts)

    def test_a_load_without_a_log_has_no_drawing(self):
        other = self.finished()
        self.check_failure(self.office.run("load", "plot", other, "--svg", self.folder / "x.svg"), "cycle-log-missing", 20)
        self.assertFalse((self.folder / "x.svg").exists())

    def test_a_period_is_a_bound_pdf_and_a_table(self):
        """R61"""
        self.office.released()
        pdf, table = self.folder / "period.pdf", self.folder / "period.csv"
        self.office.ok("load", "period", "--from", "2027-03-01", "--to", "2027-03-31", "--pdf", pdf, "--csv", table)
        pages, text = self.check_pdf(pdf)
        with open(table, encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        loads = sorted(row["load"] for row in rows)
        self.assertEqual(loads, ["S1-1", "S1-2", "S1-3"])
        for load in loads:
            self.assertIn(load, text)
        self.assertGreaterEqual(pages, 1)

    def test_nothing_printed_goes_over_the_record_or_the_keys(self):
        month = ["--from", "2027-03-01", "--to", "2027-03-31"]
        for name in ("record.db", "keys.json"):
            out = self.office.folder / name
            before = out.read_bytes()
            for verb in (["load", "report", self.load, "--out"], ["load", "plot", self.load, "--svg"],
                         ["load", "period", *month, "--csv"], ["load", "period", *month, "--pdf"]):
                with self.subTest(verb):
                    try:
                        self.check_failure(self.office.run(*verb, out), "bad-value", 2)
                        self.assertEqual(out.read_bytes(), before)
                    finally:
                        out.write_bytes(before)

    def test_a_period_of_an_unknown_sterilizer_is_refused(self):
        reply = self.office.run("load", "period", "--from", "2027-03-01", "--to", "2027-03-31", "--sterilizer", "ZZ",
                                "--csv", self.folder / "x.csv")
        self.check_failure(reply, "code-unknown", 20)
        self.assertFalse((self.folder / "x.csv").exists())

    def test_a_record_that_cannot_be_written_is_told(self):
        for verb in (["load", "report", self.load, "--out"], ["load", "plot", self.load, "--svg"]):
            self.check_failure(self.office.run(*verb, self.folder / "none" / "x"), "file-unwritable", 1)

    def test_lethality_is_shown_as_information(self):
        """R34"""
        pdf = self.folder / "record.pdf"
        self.office.ok("load", "report", self.load, "--out", pdf)
        self.assertIn("F0", self.check_pdf(pdf)[1])

    def test_a_period_that_ends_before_it_begins_is_refused(self):
        self.check_failure(self.office.run("load", "period", "--from", "2027-03-31", "--to", "2027-03-01", "--csv",
                                           self.folder / "x.csv"), "bad-value", 2)
        self.assertFalse((self.folder / "x.csv").exists())


if __name__ == "__main__":
    office.main()
