"""Offices and loads from outside: how an office is set, what each state of a load refuses, days, counters,
emergencies, notes, and a ledger that shows what was altered. "R" and a number: the requirement a check carries."""

import contextlib
import pathlib
import sqlite3
import tempfile

import office

MORNING = "2027-03-08 09:00:00"


class Offices(office.Case):
    def test_an_office_is_made_as_asked(self):
        for options, key, value in ((["--shelf-life", "90"], "shelf_life_days", 90),
                                    (["--shelf-life", "event"], "shelf_life_days", None),
                                    (["--profile", "uk"], "profile", "uk"), (["--name", "Praxis Örtel"], "name", "Praxis Örtel"),
                                    (["--zone", "Pacific/Auckland"], "zone", "Pacific/Auckland")):
            with self.subTest(options):
                made = office.Office(self.folder / options[0] / options[1])
                self.assertEqual(made.ok("init", *options)[0][key], value)

    def test_what_no_office_can_be_is_refused_and_leaves_nothing(self):
        for error, status, options in (("bad-value", 2, ["--shelf-life", "0"]), ("bad-value", 2, ["--shelf-life", "3651"]),
                                       ("bad-value", 2, ["--shelf-life", "soon"]), ("bad-value", 2, ["--profile", "mars"]),
                                       ("zone-unknown", 1, ["--zone", "../../etc/passwd"])):
            with self.subTest(options):
                made = office.Office(self.folder / "office")
                self.check_failure(made.run("init", *options), error, status)
                self.assertFalse(made.folder.exists())

    def test_the_folder_is_the_users_own_unless_named(self):
        for env, place in (({"HOME": str(self.folder)}, ".local/share/loadlight/office"),
                           ({"HOME": "/nonexistent", "XDG_DATA_HOME": str(self.folder / "data")}, "data/loadlight/office")):
            self.assertEqual(office.run("init", env=env).status, 0)
            self.assertEqual({path.name: path.stat().st_mode & 0o077 for path in (self.folder / place).iterdir()},
                             {"record.db": 0, "keys.json": 0} | ({} if env["HOME"] == "/nonexistent" else
                                                                 {"checkpoints.jsonl": 0}))

    def test_the_first_operator_leads(self):
        made = office.Office(self.folder / "office")
        made.ok("init")
        self.assertEqual(made.ok("operator", "add", "MB", "--name", "M", operator=None)[0]["role"], "lead")
        self.check_failure(made.run("operator", "add", "JT", "--name", "J", operator=None), "operator-missing", 2)


SHORTER = ("program", "add", "QUICK", "--name", "Quick", "--sterilizer", "S1", "--load-kind", "wrapped", "--celsius", "134",
           "--exposure-minutes", "2.5", "--drying-minutes", "18", "--document", "Invented instructions", "--page", "7")


class Loads(office.Case):
    @classmethod
    def setUpClass(cls):
        folder = cls.enterClassContext(tempfile.TemporaryDirectory(prefix="loadlight-outside-"))
        cls.made = office.Office(pathlib.Path(folder) / "office", at=MORNING).fill()

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")

    def check_refused(self, error, *arguments, status=20, **more):
        before = self.office.events()
        reply = self.office.run(*arguments, **more)
        self.check_failure(reply, error, status)
        self.assertEqual(self.office.events(), before)
        return reply.lines[0]

    def test_each_state_refuses_the_steps_of_others(self):
        """R60"""
        steps = {"start": ["load", "start"], "finish": ["load", "finish"], "readings": ["load", "readings"],
                 "revoke": ["load", "revoke"]}
        ends = {"readings": office.READINGS, "revoke": ("--why", "doubt")}
        running, _ = self.office.running()
        released, _ = self.office.released()
        opened = self.office.open_load()
        for load, refused in ((opened, ("finish", "readings", "revoke")), (running, ("start", "readings", "revoke")),
                              (released, ("start", "finish", "readings"))):
            for step in refused:
                with self.subTest(load=load, step=step):
                    self.check_refused("load-wrong-state", *steps[step], load, *ends.get(step, ()))
        self.check_refused("load-empty", "load", "start", opened)
        self.check_refused("load-wrong-state", "load", "release", released)

    def test_a_running_load_takes_and_gives_no_packages(self):
        """R60"""
        running, labels = self.office.running()
        self.check_refused("load-wrong-state", "load", "add", running, labels[0]["package"])
        self.check_refused("load-wrong-state", "load", "remove", running, labels[0]["package"])
        self.check_refused("load-wrong-state", "label", "--contents", "EXAM", "--load", running, "--kind", "P",
                           "--packed", "--out", self.folder / "x.pdf")

    def test_a_package_is_in_one_load_once(self):
        load = self.office.open_load()
        package = self.office.labels(load)[0]["package"]
        self.office.ok("load", "add", load, package)
        self.check_refused("package-wrong-state", "load", "add", load, package)
        self.check_refused("bad-value", "label", "void", package, package.lower(), status=2)

    def test_a_package_scanned_into_two_loads_stays_in_the_first(self):
        """R19, R60"""
        first, second = self.office.open_load(), self.office.open_load()
        package = self.office.labels(first)[0]["package"]
        self.office.ok("load", "add", first, package)
        refused = self.check_refused("labels-name-another", "load", "add", second, package)
        self.assertIn(first, refused["items"][0])
        self.office.ok("load", "start", first)
        self.office.run("load", "add", second, package)
        self.assertEqual(self.office.ok("load", "show", second)[0]["packages"], [])

    def test_a_test_load_takes_no_packages(self):
        """R28"""
        load = self.office.ok("load", "open", "--sterilizer", "S1", "--program", office.PROGRAM_OF_LOADS,
                              "--purpose", "bowie-dick")[0]["load"]
        self.check_refused("load-takes-no-packages", "load", "add", load, "--unwrapped", "EXAM")
        self.office.ok("load", "start", load)

    def test_numbers_are_one_sequence_reserved_by_labels(self):
        """R20"""
        self.assertEqual(self.office.labels("S1-1")[0]["load"], "S1-1")
        self.assertEqual(self.office.labels("S1-2")[0]["load"], "S1-2")
        self.check_refused("load-number-out-of-sequence", "label", "--contents", "EXAM", "--load", "S1-9", "--kind", "P",
                           "--packed", "--out", self.folder / "x.pdf")
        self.assertEqual([self.office.open_load() for _ in range(3)], ["S1-1", "S1-2", "S1-3"])
        self.assertEqual(self.office.open_load("N1", "steam-134"), "N1-1")

    def test_labels_of_yesterday_are_met_at_the_sterilizer(self):
        self.office.at = "2027-03-08 23:59:00"
        load = self.office.open_load()
        package = self.office.labels(load)[0]["package"]
        self.office.ok("load", "add", load, package)
        self.office.at = "2027-03-09 00:00:00"
        refused = self.check_refused("labels-name-another", "load", "start", load)
        self.assertIn("2027-03-08", refused["items"][0])
        self.assertIn("label replace", refused["action"])
        new = self.office.ok("label", "replace", package, "--out", self.office.pdf())[0]
        self.office.ok("load", "add", load, new["package"])
        self.assertEqual(self.office.ok("load", "start", load)[0]["state"], "running")
        self.assertEqual(self.office.ok("load", "show", load)[0]["process_date"], "2027-03-09")

    def test_labels_for_a_coming_day_and_none_for_a_past_one(self):
        load = self.office.open_load()
        label = self.office.labels(load, 1, "EXAM", None, "--date", "2027-03-10")[0]
        self.assertEqual(label["use_by"], "2027-09-06")  # 180 days
        self.assertIn(".16D20270310.", label["payload"])
        self.check_refused("bad-value", "label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed",
                           "--date", "2027-03-07", "--out", self.folder / "x.pdf", status=2)
        self.check_refused("bad-date", "label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed",
                           "--date", "2027-02-29", "--out", self.folder / "x.pdf", status=2)

    def test_the_machines_counter_shows_gaps_and_refuses_repeats(self):
        """R20"""
        for counter, gap in ((100, 0), (101, 0), (104, 2)):
            load, _ = self.office.running()
            self.assertEqual(self.office.ok("load", "finish", load, "--counter", counter)[0]["counter_gap"], gap)
        load, _ = self.office.running()
        for counter in (104, 99):
            self.check_refused("counter-repeated", "load", "finish", load, "--counter", counter)
        self.office.ok("load", "finish", load)

    def test_a_result_is_replaced_only_with_a_reason(self):
        """R56"""
        load, _ = self.office.running()
        self.office.ok("load", "finish", load)
        self.office.ok("load", "readings", load, *office.READINGS)
        other = (*office.READINGS[:-1], "25")
        self.check_refused("result-differs", "load", "readings", load, *other)
        self.office.ok("load", "readings", load, *office.READINGS)
        self.office.ok("load", "readings", load, *other, "--why", "misread")

    def test_an_implant_is_released_early_only_by_two_and_for_a_reason(self):
        """R23"""
        load, labels = self.office.running(1, "IMPL")
        self.office.ok("load", "finish", load)
        self.office.ok("load", "readings", load, *office.READINGS)
        self.office.ok("load", "indicator", load, *office.INDICATOR)
        quarantined = self.office.run("load", "release", load)
        self.assertEqual((quarantined.status, quarantined.lines[0]["state"]), (10, "quarantined"))
        for error, status, options in (("reason-missing", 2, ["--emergency", "trauma"]),
                                       ("operator-not-current", 20, ["--emergency", "trauma", "--second", "JT"]),
                                       ("operator-unknown", 20, ["--emergency", "trauma", "--second", "ZZ"])):
            with self.subTest(options):
                self.check_refused(error, "load", "release", load, *options, status=status)
        released = self.office.ok("load", "release", load, "--emergency", "trauma", "--second", "MB")[0]
        self.assertEqual((released["state"], released["notes"]), ("released", ["released-as-emergency"]))
        checked = self.office.ok("check", "--id", labels[0]["package"])[0]
        self.assertIn("released-as-emergency", checked["notes"])

    def test_who_may_release_is_the_office_s_to_say(self):
        strict = self.office.copied_to(self.office.folder.parent / "strict")
        strict.test_of_the_day()
        for name in ("release-by", "emergency-by"):
            lines = strict.ok("profile", "set", name, "lead", "--why", "we agreed so", operator="MB")
            line = next(each for each in lines if each["name"] == name)
            self.assertEqual((line["value"], line["own"]), ("lead", True))
        load, _ = strict.running()
        strict.ok("load", "finish", load)
        strict.ok("load", "readings", load, *office.READINGS)
        strict.ok("load", "indicator", load, *office.INDICATOR)
        refused = strict.run("load", "release", load)
        self.assertEqual((refused.status, refused.lines[0]["error"]), (20, "release-needs-lead"))
        self.assertIn("JT", refused.lines[0]["text"])
        self.assertEqual("finished", strict.ok("load", "show", load)[0]["state"])
        self.assertEqual("released", strict.ok("load", "release", load, operator="MB")[0]["state"])
        self.assertEqual("revoked", strict.ok("load", "revoke", load, "--why", "the seal leaks")[0]["state"])

    def test_an_entered_program_governs_and_below_the_table_a_lead_signs_once(self):
        """R29"""
        self.office.ok(*SHORTER)
        self.check_refused("program-not-accepted", "load", "open", "--sterilizer", "S1", "--program", "QUICK")
        self.check_refused("lead-required", "program", "accept", "QUICK")
        self.office.ok("program", "accept", "QUICK", operator="MB")
        load, _ = self.office.finished(1, "EXAM", "S1", "QUICK")
        self.office.ok("load", "readings", load, "--low", "134", "--high", "135", "--minutes", "2.5", "--pressure", "309",
                       "--drying", "18")
        self.office.ok("load", "indicator", load, *office.INDICATOR)
        released = self.office.ok("load", "release", load)[0]
        self.assertEqual((released["outcome"], released["notes"]), ("clear", ["program-below-table"]))
        lines = {line["criterion"]: line["limit"] for line in self.office.ok("load", "show", load)[0]["criteria"]}
        self.assertEqual((lines["exposure"], lines["drying"]), (2.5, 18))

    def test_a_program_the_sterilizer_cannot_run_is_refused(self):
        """R29, R30"""
        self.check_refused("program-not-allowed", "load", "open", "--sterilizer", "N1", "--program", office.PROGRAM_OF_LOADS)
        self.office.ok(*SHORTER)
        self.check_refused("program-unknown", "load", "open", "--sterilizer", "N1", "--program", "QUICK")

    def test_a_type_6_indicator_that_states_another_program_is_refused(self):
        """R36"""
        load, _ = self.office.finished()
        six = ["load", "indicator", load, "--place", "pcd", "--type", "6", "--lot", "C6", "--expires", "2099-01-01",
               "--result", "pass"]
        self.check_refused("indicator-states-another", *six, "--stated-celsius", "121", "--stated-minutes", "15")
        self.check_refused("indicator-states-another", *six, "--stated-celsius", "132", "--stated-minutes", "3.5")
        self.office.ok(*six, "--stated-celsius", "132", "--stated-minutes", "4")

    def test_a_type_6_indicator_releases_early_only_where_the_profile_allows(self):
        """R26"""
        six = ["--place", "pcd", "--type", "6", "--lot", "C6", "--expires", "2099-01-01", "--result", "pass",
               "--stated-celsius", "132", "--stated-minutes", "4"]
        self.office.run("profile", "set", "tested-load-waits", "yes", "--why", "trial", operator="MB", json_wanted=False)
        for allowed, contents, status in (("never", "EXAM", 10), ("without-implant", "IMPL", 10), ("without-implant", "EXAM", 0)):
            with self.subTest(allowed=allowed, contents=contents):
                self.office.run("profile", "set", "early-release", allowed, "--why", "x", operator="MB", json_wanted=False)
                load, _ = self.office.evident(1, contents)
                self.office.ok("load", "biological-placed", load, "--lot", "B1", "--control-lot", "B1")
                self.office.ok("load", "indicator", load, *six)
                released = self.office.run("load", "release", load)
                self.assertEqual(released.status, status)
                self.assertEqual("released-by-indicator" in released.lines[0]["notes"], status == 0)

    def test_a_lots_own_last_day_counts_whatever_is_typed(self):
        """R37"""
        self.office.ok("consumable", "add", "--lot", "CI-0417", "--kind", "chemical", "--name", "Strip", "--expires",
                       "2027-03-07")
        load, _ = self.office.evident()
        self.assertEqual(office.codes(self.office.run("load", "release", load).lines[0]), ["consumable-expired"])

    def test_a_failed_sheet_stops_the_sterilizer_until_one_passed(self):
        """R27"""
        failed, reply = self.office.test_air_removal("fail")
        self.assertEqual((reply.status, office.codes(reply.lines[0])), (20, ["daily-test-failed"]))
        load = self.office.open_load()
        self.office.ok("load", "add", load, "--unwrapped", "EXAM")
        self.check_refused("sterilizer-test-failed", "load", "start", load)
        self.assertEqual(self.office.test_air_removal("pass")[1].status, 0)
        self.assertEqual(self.office.ok("load", "start", load)[0]["state"], "running")

    def test_a_failed_leak_test_stops_it_too(self):
        """R27"""
        test = self.office.open_load("S1", office.PROGRAM_OF_LOADS, "--purpose", "leak")
        self.office.ok("load", "start", test)
        self.office.ok("load", "finish", test)
        self.check_refused("bad-value", "load", "leak", test, "--rate", "0.2", "--result", "maybe", status=2)
        self.office.ok("load", "leak", test, "--rate", "0.2", "--result", "fail")
        self.assertEqual(self.office.run("load", "release", test).status, 20)
        load = self.office.open_load()
        self.office.ok("load", "add", load, "--unwrapped", "EXAM")
        self.check_refused("sterilizer-test-failed", "load", "start", load)

    def test_the_counter_begins_again_after_a_service_that_says_so(self):
        """R20"""
        load, _ = self.office.running()
        self.office.ok("load", "finish", load, "--counter", 100)
        self.office.ok("sterilizer", "service", "S1", "--what", "repair", "--note", "board")
        load, _ = self.office.running()
        self.check_refused("counter-repeated", "load", "finish", load, "--counter", 1)
        self.office.ok("sterilizer", "service", "S1", "--what", "repair", "--note", "board", "--counter-reset")
        self.assertEqual(self.office.ok("load", "finish", load, "--counter", 1)[0]["counter_gap"], 0)

    def test_a_clock_set_back_holds_release_and_check(self):
        """R58"""
        load, _ = self.office.evident()
        _, labels = self.office.released()
        self.office.later(minutes=-16)
        self.assertEqual(office.codes(self.office.run("load", "release", load).lines[0]), ["clock-behind-record"])
        checked = self.office.run("check", "--id", labels[0]["package"])
        self.assertEqual((checked.status, office.codes(checked.lines[0])), (10, ["clock-behind-record"]))

    def test_notes_never_change_an_outcome(self):
        _, old = self.office.released()
        self.office.at = "2027-03-09 09:00:00"
        _, new = self.office.released()
        checked = self.office.ok("check", "--text", new[0]["payload"])[0]
        self.assertEqual((checked["outcome"], set(checked["notes"])), ("clear", {"older-one-elsewhere", "check-with-eyes"}))
        self.office.at = "2027-09-04 12:00:00"  # the older one's last day
        checked = self.office.ok("check", "--text", old[0]["payload"])[0]
        self.assertEqual((checked["outcome"], set(checked["notes"])), ("clear", {"near-use-by", "check-with-eyes"}))
        self.office.at = "2027-09-05 12:00:00"
        checked = self.office.ok("check", "--text", new[0]["payload"])[0]
        self.assertEqual((checked["outcome"], set(checked["notes"])), ("clear", {"near-use-by", "check-with-eyes"}))

    def test_an_alteration_shows_where_it_was_made(self):
        """R56"""
        load, labels = self.office.released()
        for sql in (f"UPDATE packages SET use_by = 20990101 WHERE id = '{labels[0]['package']}'",
                    "UPDATE loads SET state = 'released'", "DELETE FROM packages"):
            with self.subTest(sql):
                altered = self.office.copied_to(self.folder / f"altered-{len(sql)}")
                running, _ = altered.running()
                self.assertEqual(altered.ok("ledger", "verify"), [])
                with contextlib.closing(sqlite3.connect(altered.folder / "record.db")) as record, record:
                    record.execute(sql)
                found = altered.run("ledger", "verify")
                self.assertEqual(found.status, 20)
                self.assertTrue(found.lines)
                self.assertTrue(all({"where", "what"} <= set(line) for line in found.lines), found.lines)

    def test_the_ledger_itself_cannot_be_edited_unseen(self):
        self.office.released()
        record = self.office.folder / "record.db"
        with contextlib.closing(sqlite3.connect(record)) as database:
            with self.assertRaises(sqlite3.IntegrityError):
                database.execute("DELETE FROM ledger WHERE sequence = 5")
            for (trigger,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
                database.execute(f"DROP TRIGGER {trigger}")
            database.execute("UPDATE ledger SET operator_code = 'MB' WHERE sequence = 15")
            database.commit()
        found = self.office.run("ledger", "verify")
        self.assertEqual(found.status, 20)
        self.assertTrue(any("15" in line["where"] for line in found.lines), found.lines)


if __name__ == "__main__":
    office.main()
