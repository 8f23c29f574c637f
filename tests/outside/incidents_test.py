"""A positive biological indicator from its late result to the closed recall, by each procedure, through the
command line alone. "R" and a number: the requirement a check carries. Sources: CDC MMWR 52(RR-17) 2003
"Positive spore test" for dental-2003 and the conservative option, CDC Guideline 2008 Table 12 for facility-2008.
"""

import csv
import pathlib
import subprocess
import tempfile

import office

FIRST_DAY = "2027-03-01 08:00:00"
RESULT_AT = "2027-03-07 10:00:00"  # four days after the run that grew
NEGATIVE = ("--lot", "B1", "--test", "no-growth", "--control", "growth", "--control-lot", "B1")
POSITIVE = ("--lot", "B1", "--test", "growth", "--control", "growth", "--control-lot", "B1")
PLACED = ("--lot", "B1", "--control-lot", "B1")
RECALL_KEYS = {"package", "load", "disposition", "location", "visit"}

# What a person records before the sterilizer may return and the incident close; the retests go between.
BEFORE_RETEST = {
    "dental-2003": (("recall-implants", "recalled"), ("review-records", "fine"), ("review-procedures", "handling-error")),
    "facility-2008": (("notify", "done"), ("recall-implants", "recalled"), ("check-settings", "fine"),
                      ("check-utilities", "fine"), ("check-indicator", "fine")),
    "conservative": (("recall-implants", "recalled"), ("recall-everything", "recalled"), ("review-records", "fine"),
                     ("review-procedures", "fine"), ("inspect", "fine"), ("repair", "no-fault-found")),
}
AFTER_RETEST = {"dental-2003": (("judge-positive", "handling-error"),), "facility-2008": (), "conservative": ()}
RETESTS = {"dental-2003": 1, "facility-2008": 3, "conservative": 3}


class Story(office.Case):
    """Days of loads on S1: `negative`, `before`, `positive`, `implant`, `after`; then a negative on S2."""

    @classmethod
    def setUpClass(cls):
        folder = cls.enterClassContext(tempfile.TemporaryDirectory(prefix="loadlight-outside-"))
        cls.made = made = office.Office(pathlib.Path(folder) / "office", at=FIRST_DAY).fill()
        made.ok("sterilizer", "add", "S2", "--name", "Second pump unit", "--removal", "dynamic", "--type", "B")
        cls.loads, cls.packages = {}, {}
        for day, name, contents, result in ((1, "negative", "EXAM", NEGATIVE), (2, "before", "EXAM", None),
                                            (3, "positive", "EXAM", None), (4, "implant", "IMPL", None),
                                            (5, "after", "EXAM", None)):
            made.at = f"2027-03-0{day} 08:00:00"
            cls.loads[name], labels = made.evident(3 if name == "after" else 1, contents)
            cls.packages[name] = [label["package"] for label in labels]
            if name == "positive":
                made.ok("load", "biological-placed", cls.loads[name], *PLACED, "--reader", "mail-in", "--service", "Post")
            if result:
                made.ok("load", "biological", cls.loads[name], *result)
            emergency = ("--emergency", "trauma", "--second", "MB") if contents == "IMPL" else ()
            made.ok("load", "release", cls.loads[name], *emergency)
        cls.suspects = [cls.loads[name] for name in ("before", "positive", "implant", "after")]
        cls.opened, cls.checked, cls.lost = cls.packages["after"]
        made.ok("shelve", *cls.packages["after"][1:], *cls.packages["before"], "--location", "CAB1")
        made.ok("check", "--id", cls.checked)
        made.ok("open", cls.opened, "--visit", "V-1001", *office.EYES)
        made.at = RESULT_AT

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")

    def lead(self, *arguments, **more):
        return self.office.run(*arguments, operator="MB", **more)

    def set(self, name, value):
        self.assertEqual(self.lead("profile", "set", name, value, "--why", "our own", json_wanted=False).status, 0)

    def positive(self, procedure="conservative"):
        self.set("procedure", procedure)
        reply = self.office.ok("load", "biological", self.loads["positive"], *POSITIVE, "--received", "2027-03-05",
                               "--reported", "2027-03-07", "--report", "report-118.pdf")[0]
        self.assertEqual(reply["incident"], 1)
        return self.incident()

    def incident(self):
        return self.office.ok("incident", "show", 1)[0]

    def do(self, steps):
        for step, finding in steps:
            reply = self.lead("incident", "step", 1, step, "--finding", finding)
            self.assertEqual(reply.status, 0, reply.out)

    def retest(self, result):
        self.office.later(hours=1)
        load = self.office.open_load("S1", office.PROGRAM_OF_LOADS, "--purpose", "retest", "--incident", "1")
        self.office.ok("load", "start", load)
        self.office.later(hours=1)
        self.office.ok("load", "finish", load)
        self.office.ok("load", "readings", load, *office.READINGS)
        self.office.ok("load", "indicator", load, *office.INDICATOR)
        self.office.ok("load", "biological", load, *result)
        return load

    def back(self):
        return self.lead("sterilizer", "return", "S1", "--note", "retests negative")

    def outcome(self, package):
        line = self.office.run("check", "--id", package).lines[0]
        return line["outcome"], office.codes(line)

    def recall(self, *more):
        return self.office.ok("recall", "--incident", 1, *more)

    def account(self, package, how, *why):
        return self.office.run("incident", "account", 1, package, "--as", how, *why)


class Positive(Story):
    def test_the_range_goes_from_the_last_negative_on_until_out_of_service(self):
        """R44, R46, R51"""
        incident = self.positive()
        self.assertEqual(incident["loads"], self.suspects)
        in_service = {row["code"]: row["in_service"] for row in self.office.ok("sterilizer", "list")}
        self.assertEqual((in_service["S1"], in_service["S2"]), (False, True))
        self.assertEqual(self.outcome(self.packages["negative"][0]), ("clear", []))

    def test_without_an_earlier_negative_it_goes_back_to_the_first_load(self):
        """R47"""
        self.office.ok("load", "biological", self.loads["negative"], "--lot", "B1", "--test", "no-growth", "--control",
                       "no-growth", "--control-lot", "B1", "--why", "the control was misread")
        self.assertEqual(self.positive()["loads"], [self.loads["negative"], *self.suspects])

    def test_the_next_negative_run_later_ends_the_range(self):
        """R46"""
        self.office.ok("load", "biological", self.loads["after"], *NEGATIVE)
        self.assertEqual(self.positive()["loads"], self.suspects[:-1])

    def test_a_late_result_lists_the_checks_and_uses_before_it(self):
        """R51"""
        incident = self.positive()
        self.assertIn(self.checked, {clear["package"] for clear in incident["earlier_clears"]})
        self.assertEqual([line["visit"] for line in self.recall() if line["disposition"] == "opened"], ["V-1001"])

    def test_implants_are_called_back_at_once_and_the_rest_as_the_procedure_says(self):
        """R45, R48"""
        shelf, implant = self.packages["before"][0], self.packages["implant"][0]
        clean = self.office
        self.assertEqual((self.outcome(shelf)[0], self.outcome(implant)[0]), ("clear", "clear"))
        for procedure, ordinary, called_back in (
                ("dental-2003", ("hold", ["incident-open"]), ("do-not-use", ["package-recalled", "incident-open"])),
                ("facility-2008", ("hold", ["incident-open"]), ("do-not-use", ["package-recalled", "incident-open"])),
                ("conservative", ("do-not-use", ["load-recalled", "incident-open"]),
                 ("do-not-use", ["load-recalled", "incident-open"]))):
            with self.subTest(procedure):
                self.office = clean.copied_to(self.folder / procedure)
                incident = self.positive(procedure)
                self.assertEqual((incident["procedure"], incident["state"]), (procedure, "open"))
                self.assertEqual((self.outcome(shelf), self.outcome(implant)), (ordinary, called_back))

    def test_a_narrower_range_is_a_leads_recorded_decision(self):
        """R46"""
        self.positive()
        narrower = ["incident", "narrow", 1, "--first", self.loads["positive"], "--last", self.loads["after"]]
        self.check_failure(self.office.run(*narrower, "--why", "x"), "lead-required", 20)
        self.check_failure(self.lead(*narrower, "--why", ""), "reason-missing", 2)
        self.assertEqual(self.lead(*narrower, "--why", "the load before carried its own indicator").status, 0)
        incident = self.incident()
        self.assertEqual((incident["loads"], incident["narrowed"]),
                         (self.suspects[1:], "the load before carried its own indicator"))
        self.assertIn("confirm-range", {step["step"] for step in incident["steps"] if step["state"] == "due"})
        outside = ["incident", "narrow", 1, "--first", self.loads["implant"], "--last", self.loads["after"], "--why", "x"]
        self.check_failure(self.lead(*outside), "bad-value", 2)

    def test_the_sterilizer_runs_nothing_but_tests_meanwhile(self):
        """R44"""
        opened_before = self.office.open_load()
        package = self.office.labels(opened_before)[0]["package"]
        self.office.ok("load", "add", opened_before, package)
        self.positive()
        self.check_failure(self.office.run("load", "start", opened_before), "sterilizer-out-of-service", 20)
        self.check_failure(self.office.run("load", "open", "--sterilizer", "S1", "--program", office.PROGRAM_OF_LOADS),
                           "sterilizer-out-of-service", 20)
        self.assertEqual(self.office.test_air_removal()[1].status, 0)


class Closed(Story):
    def test_each_procedure_is_carried_to_its_end(self):
        """R45, R49, R50"""
        clean = self.office
        for procedure, steps in BEFORE_RETEST.items():
            with self.subTest(procedure):
                self.office = clean.copied_to(self.folder / procedure)
                self.positive(procedure)
                self.check_failure(self.back(), "return-not-allowed", 20)
                self.do(steps)
                for _ in range(RETESTS[procedure] - 1):
                    self.retest(NEGATIVE)
                self.check_failure(self.back(), "return-not-allowed", 20)
                self.retest(NEGATIVE)
                self.do(AFTER_RETEST[procedure])
                self.check_failure(self.office.run("sterilizer", "return", "S1", "--note", "x"), "lead-required", 20)
                self.check_close_refused()
                self.assertTrue(self.back().lines[0]["in_service"])
                self.check_close_refused()
                self.account_for_all()
                closed = self.lead("incident", "close", 1, "--note", "all found")
                self.assertEqual((closed.status, closed.lines[0].get("state")), (0, "closed"), closed.out)
                self.assertEqual(self.office.ok("ledger", "verify"), [])
                self.check_after(procedure)

    def check_close_refused(self):
        before = self.office.events()
        reply = self.lead("incident", "close", 1)
        self.check_failure(reply, "incident-unfinished", 20)
        self.assertTrue(reply.lines[0]["items"])
        self.assertEqual(self.office.events(), before)

    def account_for_all(self):
        for line in self.recall():
            if line["called_back"] and line["disposition"] == "on-shelf":
                self.assertEqual(self.account(line["package"], "withdrawn").status, 0)

    def check_after(self, procedure):
        """What was not called back may be used again; what was never may."""
        released_again = ("clear", []) if procedure != "conservative" else ("do-not-use", ["load-recalled", "withdrawn"])
        self.assertEqual(self.outcome(self.packages["before"][0]), released_again)
        self.assertEqual(self.outcome(self.packages["implant"][0])[0], "do-not-use")
        self.assertEqual(self.outcome(self.packages["negative"][0]), ("clear", []))
        self.check_failure(self.lead("incident", "close", 1), "incident-ended", 20)
        _, labels = self.office.released()
        self.assertEqual(self.outcome(labels[0]["package"]), ("clear", []))

    def test_a_positive_retest_begins_the_count_anew(self):
        """R49"""
        self.positive()
        self.do(BEFORE_RETEST["conservative"])
        for result in (NEGATIVE, NEGATIVE, POSITIVE):
            self.retest(result)
        self.check_failure(self.back(), "return-not-allowed", 20)
        self.do((("inspect", "defect"), ("repair", "repaired")))
        for _ in range(2):
            self.retest(NEGATIVE)
            self.check_failure(self.back(), "return-not-allowed", 20)
        self.retest(NEGATIVE)
        self.assertEqual(self.back().status, 0)

    def test_a_retest_takes_nothing_but_its_indicator(self):
        """R28, R49"""
        self.positive()
        load = self.office.open_load("S1", office.PROGRAM_OF_LOADS, "--purpose", "retest", "--incident", "1")
        self.check_failure(self.office.run("load", "add", load, "--unwrapped", "EXAM"), "load-takes-no-packages", 20)

    def test_a_retest_without_its_other_evidence_clears_nothing(self):
        """R49: mechanical and chemical results have to be in order too"""
        self.positive()
        self.do(BEFORE_RETEST["conservative"])
        for _ in range(3):
            load = self.office.open_load("S1", office.PROGRAM_OF_LOADS, "--purpose", "retest", "--incident", "1")
            self.office.ok("load", "start", load)
            self.office.ok("load", "finish", load)
            self.office.ok("load", "biological", load, *NEGATIVE)
        self.check_failure(self.back(), "return-not-allowed", 20)

    def test_every_package_is_accounted_for_in_its_own_way(self):
        """R50"""
        self.positive()
        self.assertEqual(self.account(self.checked, "reprocessed").status, 0)
        self.check_failure(self.account(self.lost, "not-found"), "reason-missing", 2)
        self.assertEqual(self.account(self.lost, "not-found", "--why", "the drawer was emptied").status, 0)
        self.check_failure(self.account(self.opened, "not-found", "--why", "x"), "package-wrong-state", 20)
        self.check_failure(self.account(self.packages["negative"][0], "withdrawn"), "not-suspect", 20)
        self.check_failure(self.account(self.checked, "gone"), "bad-value", 2)
        told = {line["package"]: line["disposition"] for line in self.recall()}
        self.assertEqual((told[self.checked], told[self.lost], told[self.opened], told[self.packages["before"][0]]),
                         ("reprocessed", "not-found", "opened", "on-shelf"))

    def test_the_notice_lists_every_suspect_package(self):
        """R50"""
        self.positive()
        pdf, table = self.folder / "recall.pdf", self.folder / "recall.csv"
        lines = self.recall("--pdf", pdf, "--csv", table)
        self.assertEqual({line["load"] for line in lines}, set(self.suspects))
        for line in lines:
            self.assertLessEqual(RECALL_KEYS, set(line))
        by_package = {line["package"]: line for line in lines}
        self.assertEqual((by_package[self.checked]["location"], by_package[self.opened]["visit"]), ("CAB1", "V-1001"))
        with open(table, encoding="utf-8", newline="") as file:
            rows = {row["package"]: row for row in csv.DictReader(file)}
        self.assertEqual(set(rows), set(by_package))
        for package, line in by_package.items():
            self.assertEqual({key: rows[package][key] for key in RECALL_KEYS}, {key: line[key] or "" for key in RECALL_KEYS})
        subprocess.run(["qpdf", "--check", pdf], check=True, capture_output=True)
        text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True).stdout
        for package in by_package:
            self.assertIn(f"{package[:3]}-{package[3:6]}-{package[6:]}", text)
        self.assertIn("V-1001", text)

    def test_the_notice_does_not_go_over_the_record(self):
        self.positive()
        record = self.office.folder / "record.db"
        before = self.office.events()
        whole = record.read_bytes()
        for option in ("--pdf", "--csv"):
            with self.subTest(option):
                reply = self.office.run("recall", "--incident", 1, option, record)
                changed = record.read_bytes() != whole
                record.write_bytes(whole)
                self.assertEqual((reply.status, changed), (2, False))
        self.assertEqual(self.office.events(), before)

    def test_what_is_no_incident_or_step_is_told(self):
        self.positive()
        for error, status, arguments in (("incident-unknown", 20, ["incident", "show", 9]),
                                         ("incident-unknown", 20, ["recall", "--incident", 9]),
                                         ("wrong-usage", 2, ["incident", "show", "x"]),
                                         ("bad-value", 2, ["incident", "step", 1, "dance", "--finding", "fine"]),
                                         ("bad-value", 2, ["incident", "step", 1, "inspect", "--finding", "maybe"]),
                                         ("step-not-due", 20, ["incident", "step", 1, "repair", "--finding", "repaired"]),
                                         ("incident-unknown", 20, ["load", "open", "--sterilizer", "S1", "--program",
                                                                   office.PROGRAM_OF_LOADS, "--purpose", "retest",
                                                                   "--incident", 9])):
            with self.subTest(arguments):
                before = self.office.events()
                self.check_failure(self.lead(*arguments), error, status)
                self.assertEqual(self.office.events(), before)

    def test_a_decision_is_the_leads(self):
        """R46, R49"""
        self.positive("dental-2003")
        self.do(BEFORE_RETEST["dental-2003"])
        self.retest(NEGATIVE)
        reply = self.office.run("incident", "step", 1, "judge-positive", "--finding", "handling-error")
        self.check_failure(reply, "lead-required", 20)


class Late(Story):
    """What a result may and may not be."""

    def biological(self, load, result, *more):
        return self.office.run("load", "biological", load, *result, *more)

    def test_a_result_for_a_load_that_never_ran_is_refused(self):
        """R19, R60"""
        never = self.office.open_load()
        self.office.ok("load", "biological-placed", never, *PLACED)
        before = self.office.events()
        self.check_failure(self.biological(never, POSITIVE), "load-wrong-state", 20)
        self.check_failure(self.biological("S1-999", POSITIVE), "load-unknown", 20)
        sheet, _ = self.office.test_air_removal()
        self.check_failure(self.biological(sheet, POSITIVE), "indicator-unfit", 20)
        self.assertEqual(self.office.ok("incident", "list"), [])
        self.assertEqual(len(self.office.events()), len(before) + 5)

    def test_a_placed_indicators_number_is_shown_with_its_load(self):
        """R24: `load biological-moved` asks for it"""
        load, _ = self.office.running()
        placed = self.office.ok("load", "biological-placed", load, *PLACED)[0]
        self.office.ok("load", "biological-moved", placed["number"], "--incubated")
        self.check_failure(self.office.run("load", "biological-moved", 99, "--sent"), "indicator-unknown", 20)
        shown = self.office.run("load", "show", load, json_wanted=False).out.decode() + str(
            self.office.ok("load", "show", load))
        self.assertIn(placed["due"], shown)

    def test_a_result_for_a_load_without_an_indicator_is_kept_and_told(self):
        """R19"""
        reply = self.office.run("load", "biological", self.loads["after"], *NEGATIVE)
        self.assertEqual(reply.status, 0)
        self.assertTrue(reply.err.strip())

    def test_a_result_entered_twice_differently_needs_a_reason_and_both_are_kept(self):
        """R25, R56"""
        load, other = self.loads["positive"], ("--lot", "B1", "--test", "no-growth", "--control", "no-growth",
                                               "--control-lot", "B1")
        self.assertEqual(self.biological(load, NEGATIVE).status, 0)
        before = self.office.events()
        self.assertEqual(self.biological(load, NEGATIVE).status, 0)  # says the same: nothing new
        self.check_failure(self.biological(load, other), "result-differs", 20)
        self.assertEqual(self.office.events(), before)
        self.assertEqual(self.biological(load, other, "--why", "misread").status, 0)
        kept = self.office.ok("load", "show", load)[0]["biologicals"]
        self.assertEqual([(each["control"], each["why"]) for each in kept], [("growth", ""), ("no-growth", "misread")])

    def test_a_growth_is_never_outvoted(self):
        """R44"""
        self.positive()
        self.assertEqual(self.biological(self.loads["positive"], NEGATIVE, "--why", "wrong tube").status, 0)
        self.assertEqual((self.incident()["state"], len(self.incident()["loads"])), ("open", len(self.suspects)))
        self.check_failure(self.back(), "return-not-allowed", 20)

    def test_a_load_of_implants_waits_for_a_valid_negative(self):
        """R23, R25"""
        load, labels = self.office.evident(1, "IMPL")
        for result, why in ((None, ()), (("--lot", "B1", "--test", "no-growth", "--control", "growth", "--control-lot", "B2"), ()),
                            (NEGATIVE, ("--why", "the control's lot was mistyped"))):
            if result:
                self.assertEqual(self.biological(load, result, *why).status, 0)
            reply = self.office.run("load", "release", load)
            self.assertEqual(reply.status, 0 if result == NEGATIVE else 10, reply.out)
        self.assertEqual(self.outcome(labels[0]["package"]), ("clear", []))

    def placed(self):
        load, labels = self.office.evident()  # started an hour ago
        self.office.ok("load", "biological-placed", load, *PLACED, "--hours", "24")
        return load, labels

    def test_a_result_pending_or_overdue_is_a_note(self):
        """R24"""
        load, _ = self.placed()
        self.office.later(hours=23)
        self.assertEqual(self.office.ok("load", "show", load)[0]["notes"], ["biological-pending"])
        self.office.later(seconds=1)
        self.assertIn("biological-overdue", self.office.ok("load", "show", load)[0]["notes"])
        self.assertEqual(self.office.ok("load", "release", load)[0]["outcome"], "clear")

    def test_a_pending_result_is_noted_at_the_chair(self):
        """R24, R38"""
        load, labels = self.placed()
        self.office.ok("load", "release", load)
        checked = self.office.ok("check", "--id", labels[0]["package"])[0]
        self.assertEqual(checked["outcome"], "clear")
        self.assertIn("biological-pending", checked["notes"])
        self.office.later(hours=24)
        self.assertIn("biological-overdue", self.office.ok("check", "--id", labels[0]["package"])[0]["notes"])
        self.office.ok("load", "biological", load, *NEGATIVE)
        notes = set(self.office.ok("check", "--id", labels[0]["package"])[0]["notes"])
        self.assertFalse(notes & {"biological-pending", "biological-overdue"})


class Due(Story):
    KEYS = {"kind", "subject", "when", "overdue"}

    def due(self):
        lines = self.office.ok("due")
        for line in lines:
            self.assertEqual(set(line), self.KEYS)
        return {(line["kind"], line["subject"]): (line["when"], line["overdue"]) for line in lines}

    def test_a_mailed_in_result_is_due_a_week_after_its_run(self):
        """R24"""
        subject = ("biological-result", self.loads["positive"])
        self.assertEqual(self.due()[subject], ("2027-03-10", False))
        self.office.at = "2027-03-11 00:00:00"
        self.assertEqual(self.due()[subject], ("2027-03-10", True))
        self.office.ok("load", "biological", self.loads["positive"], *NEGATIVE)
        self.assertNotIn(subject, self.due())

    def test_the_days_air_removal_test_is_due_until_it_passed(self):
        """R27"""
        self.assertEqual(self.due()["air-removal-test", "S1"], ("2027-03-07", False))
        self.office.test_of_the_day()
        self.assertNotIn(("air-removal-test", "S1"), self.due())

    def test_an_incidents_steps_and_its_sterilizer_are_due(self):
        """R44, R50"""
        self.positive()
        steps = {subject for kind, subject in self.due() if kind == "incident-step"}
        self.assertLessEqual({"1 review-records", "1 inspect"}, steps)

    def test_consumables_services_and_loads_are_due(self):
        """R37"""
        self.office.ok("consumable", "add", "--lot", "CI-9", "--kind", "chemical", "--name", "Strip", "--expires",
                       "2027-03-09")
        self.office.ok("sterilizer", "service", "S1", "--what", "maintenance", "--note", "gasket", "--next", "2027-03-08")
        load, _ = self.office.finished()
        due = self.due()
        self.assertEqual(due["consumable-expiry", "CI-9"], ("2027-03-09", False))
        self.assertEqual(due["service", "S1"], ("2027-03-08", False))
        self.assertIn(("load-to-decide", load), due)

    def test_a_repair_asks_a_retest(self):
        """R49"""
        self.office.ok("sterilizer", "service", "S1", "--what", "repair", "--note", "pump")
        self.assertIn(("retest-after-service", "S1"), self.due())
        log = self.office.ok("sterilizer", "log", "S1")
        self.assertEqual([(line["kind"], line["note"]) for line in log], [("repair", "pump")])


if __name__ == "__main__":
    office.main()
