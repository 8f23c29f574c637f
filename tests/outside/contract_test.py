"""The command contract (DEVELOPERS.md): exit statuses, JSON lines, who acts where, and a package's whole life.

"R" and a number: the requirement a check carries.
"""

import csv
import io
import itertools
import signal
import subprocess
import time

import office

DECISION = {"load", "state", "outcome", "reasons", "notes"}
ANSWER = {"outcome", "package", "load", "contents", "process_date", "use_by", "reasons", "notes"}


class Shared(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.made = office.filled_office(cls)

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")


class Usage(Shared):
    def test_wrong_usage_exits_2(self):
        for arguments in ([], ["nonsense"], ["load"], ["check"], ["check", "--nonsense"], ["load", "open"],
                          ["load", "show"], ["label"], ["label", "--contents", "EXAM"], ["open", "X"]):
            with self.subTest(arguments):
                self.check_failure(self.office.run(*arguments), "wrong-usage", 2)

    def test_a_value_that_cannot_be_exits_2(self):
        for error, arguments in (("bad-load-name", ["load", "show", "S1"]),
                                 ("bad-value", ["ledger", "export", "--format", "xml"]),
                                 ("bad-value", ["withdraw", "0000000000", "--why", "bored"]),
                                 ("bad-package-id", ["withdraw", "0000000001", "--why", "torn"]),
                                 ("bad-code", ["contents", "add", "lower", "--name", "x"]),
                                 ("reason-missing", ["clock", "accept", "--why", ""])):
            with self.subTest(arguments):
                self.check_failure(self.office.run(*arguments, operator="MB"), error, 2)

    def test_a_refusal_by_rule_exits_20(self):
        for error, arguments in (("load-unknown", ["load", "show", "S1-999"]),
                                 ("program-unknown", ["load", "open", "--sterilizer", "S1", "--program", "x"]),
                                 ("code-taken", ["contents", "add", "EXAM", "--name", "x"]),
                                 ("code-unknown", ["contents", "retire", "NONE"]),
                                 ("office-exists", ["init"])):
            with self.subTest(arguments):
                self.check_failure(self.office.run(*arguments), error, 20)

    def test_what_could_not_be_done_exits_1(self):
        self.check_failure(office.run("--office", self.folder / "none", "operator", "list"), "office-absent", 1)
        self.check_failure(self.office.run("contents", "import", self.folder / "none.csv"), "file-unreadable", 1)
        self.check_failure(office.run("read", self.folder / "none.png"), "file-unreadable", 1)

    def test_a_verb_that_writes_needs_an_operator(self):
        for arguments in (["load", "open", "--sterilizer", "S1", "--program", office.PROGRAM_OF_LOADS],
                          ["location", "add", "CAB2", "--name", "x"], ["clock", "accept", "--why", "x"]):
            with self.subTest(arguments):
                self.check_failure(self.office.run(*arguments, operator=None), "operator-missing", 2)
        self.check_failure(self.office.run(*arguments, operator="ZZ"), "operator-unknown", 20)

    def test_office_and_operator_come_from_the_environment_too(self):
        named = {"LOADLIGHT_OFFICE": str(self.office.folder), "LOADLIGHT_OPERATOR": "JT"}
        reply = office.run("location", "add", "CAB2", "--name", "Cabinet 2", env=named)
        self.assertEqual((reply.status, reply.lines[0]["code"]), (0, "CAB2"))
        self.assertEqual(self.office.events()[-1]["operator"], "JT")
        reply = office.run("--operator", "MB", "location", "add", "CAB3", "--name", "Cabinet 3", env=named)
        self.assertEqual((reply.status, self.office.events()[-1]["operator"]), (0, "MB"))

    def test_global_options_stand_before_or_after_the_verb(self):
        place = ["--office", self.office.folder]
        for arguments in ([*place, "--json", "location", "list"], ["location", *place, "list", "--json"],
                          ["location", "--json", "list", *place]):
            with self.subTest(arguments):
                reply = office.run(*arguments, json_wanted=False)
                self.assertEqual((reply.status, reply.err), (0, ""))
                self.assertEqual([line["code"] for line in office.parsed(reply.out)], ["CAB1"])

    def test_without_json_failures_go_to_standard_error(self):
        reply = self.office.run("load", "show", "S1-999", json_wanted=False)
        self.assertEqual((reply.status, reply.out), (20, b""))
        self.assertIn("S1-999", reply.err)

    def test_a_value_out_of_a_list_names_the_list(self):
        reply = self.office.run("withdraw", "0000000000", "--why", "bored")
        self.assertIn("“bored” for why. It takes: wet, torn", reply.lines[0]["text"])

    def test_messages_for_people_never_reach_the_json(self):
        load, labels = self.office.released()
        reply = self.office.run("open", labels[0]["package"], *office.EYES)
        self.assertEqual((reply.status, len(reply.lines)), (0, 1))
        self.assertTrue(reply.err.strip())


class Tables(Shared):
    def test_each_table_adds_lists_and_retires(self):
        for table, code, options in (("operator", "AK", []), ("sterilizer", "S9", ["--removal", "gravity", "--type", "S"]),
                                     ("contents", "MIRR", ["--hinged"]), ("kind", "W", ["--wrapping", "double-wrap"]),
                                     ("location", "OP1", []), ("stock", "PAPER", ["--method", "laser", "--dpi", "600"])):
            with self.subTest(table):
                added = self.office.ok(table, "add", code, "--name", "Κάτοπτρα 口腔鏡", *options)[0]
                self.assertEqual((added["code"], added["name"]), (code, "Κάτοπτρα 口腔鏡"))
                self.assertIn(added, self.office.ok(table, "list", operator=None))
                gone = self.office.ok(table, "retire", code)[0]
                self.assertTrue(gone["last_day" if table == "operator" else "retired_on"])
                self.assertIn(gone, self.office.ok(table, "list", operator=None))
                self.check_failure(self.office.run(table, "retire", code), "code-retired", 20)

    def test_a_file_is_imported_whole(self):
        rows = self.folder / "contents.csv"
        rows.write_text("code,name,items,implant\nA1,First,one; two,no\nB2,\"Second, quoted\",,yes\n", encoding="utf-8")
        self.assertEqual([line["code"] for line in self.office.ok("contents", "import", rows)], ["A1", "B2"])
        listed = {line["code"]: line for line in self.office.ok("contents", "list")}
        self.assertEqual((listed["B2"]["name"], listed["B2"]["implant"]), ("Second, quoted", True))

    def test_a_retired_operator_acts_no_more(self):
        self.office.ok("operator", "add", "RP", "--name", "R", "--first-day", "2001-01-01", "--last-day", "2020-06-30")
        reply = self.office.run("location", "add", "X", "--name", "x", operator="RP")
        self.check_failure(reply, "operator-not-current", 20)


class Profile(Shared):
    def test_every_value_of_the_profile_has_its_source(self):
        """R63"""
        lines = self.office.ok("profile", "show", operator=None)
        self.assertEqual({key for line in lines for key in line}, {"profile", "name", "value", "own", "source"})
        self.assertTrue(all(line["source"] for line in lines))
        self.assertEqual({line["name"]: line["value"] for line in lines}["procedure"], "dental-2003")

    def test_a_value_of_the_offices_own_is_a_leads_and_is_named_in_every_decision(self):
        """R63"""
        setting = ["profile", "set", "biological", "daily", "--why", "local rule"]
        self.check_failure(self.office.run(*setting), "lead-required", 20)
        self.check_failure(self.office.run("profile", "set", "colour", "red", "--why", "x", operator="MB"), "bad-value", 2)
        self.check_failure(self.office.run("profile", "set", "biological", "often", "--why", "x", operator="MB"),
                           "bad-value", 2)
        lines = self.office.ok(*setting, operator="MB")
        self.assertEqual([line["name"] for line in lines if line["own"]], ["biological"])
        self.assertIn("own: biological", self.office.ok("load", "show", self.office.open_load())[0]["profile"])


class Life(Shared):
    def test_a_package_from_its_label_to_its_opening(self):
        """R19, R21, R39, R43"""
        self.office.test_of_the_day()
        load = self.office.open_load()
        labels = self.office.labels(load, 2)
        self.assertEqual([set(label) >= {"package", "payload", "load", "use_by"} for label in labels], [True, True])
        one, two = [label["package"] for label in labels]
        self.step(["load", "add", load, one, labels[1]["payload"]], "open")
        self.step(["load", "start", load], "running", "load-running")
        self.step(["load", "finish", load, "--counter", "512"], "finished", "mechanical-evidence-missing")
        reply = self.office.run("load", "release", load)
        self.assertEqual((reply.status, reply.lines[0]["state"]), (10, "finished"))
        self.step(["load", "readings", load, *office.READINGS], "finished", "external-indicator-unread")
        self.step(["load", "indicator", load, *office.INDICATOR], "finished", "load-not-released")
        self.assertEqual(self.step(["load", "release", load], "released")["outcome"], "clear")
        shown = self.step(["load", "show", load], "released")
        self.assertEqual(({each["package"] for each in shown["packages"]}, shown["counter"]), ({one, two}, 512))
        self.assertEqual(self.office.ok("shelve", one, two, "--location", "CAB1")[0]["location"], "CAB1")
        told = self.office.run("shelve", one, "--location", "CAB1", json_wanted=False).out.decode()
        self.assertTrue(told.strip().endswith("is in its load, at CAB1."), told)
        checked = self.office.ok("check", "--text", labels[0]["payload"])[0]
        self.assertLessEqual(ANSWER, set(checked))
        self.assertEqual((checked["outcome"], checked["reasons"], checked["load"]), ("clear", [], load))
        self.assertIn("check-with-eyes", checked["notes"])
        self.office.ok("open", one, "--visit", "V-1001", *office.EYES)
        self.assertEqual(self.office.ok("opened", one, "--internal", "changed")[0]["incident"], None)
        self.assertEqual(self.office.ok("ledger", "verify"), [])

    def step(self, arguments, state, reason=None):
        line = self.office.ok(*arguments)[0]
        self.assertLessEqual(DECISION, set(line))
        self.assertEqual(line["state"], state)
        if reason:
            self.assertIn(reason, office.codes(line))
        return line

    def test_a_package_is_opened_once(self):
        """R41"""
        _, labels = self.office.released()
        self.office.ok("open", labels[0]["package"], *office.EYES)
        again = self.office.run("open", labels[0]["package"], *office.EYES)
        self.assertEqual((again.status, office.codes(again.lines[0])), (20, ["already-opened"]))

    def test_what_is_not_clear_is_not_opened_unless_recorded_late(self):
        """R60"""
        _, labels = self.office.running()
        package = labels[0]["package"]
        self.assertEqual(self.office.run("open", package, *office.EYES).status, 20)
        self.assertEqual(self.office.run("load", "show", labels[0]["load"]).lines[0]["packages"][0]["state"], "loaded")
        self.office.ok("open", package, *office.EYES, "--already-opened", "found open on the tray")

    def test_a_no_of_the_eyes_withdraws(self):
        """R39"""
        _, labels = self.office.released(3)
        for label, no in zip(labels, (0, 1, 2)):
            eyes = list(office.EYES)
            eyes[2 * no + 1] = ("no", "no", "unchanged")[no]
            reply = self.office.run("open", label["package"], *eyes)
            self.assertEqual((reply.status, reply.lines[0]["outcome"]), (20, "do-not-use"))
            self.assertEqual(office.codes(self.office.run("check", "--id", label["package"]).lines[0]), ["withdrawn"])

    def test_a_visit_is_an_opaque_reference(self):
        """R43, R62"""
        _, labels = self.office.released()
        for bad in ("Mary Smith", "SMITH", "v-1001", "A1", "1" * 17, "V_1001", "Ä1001"):
            with self.subTest(bad):
                reply = self.office.run("open", labels[0]["package"], "--visit", bad, *office.EYES)
                self.check_failure(reply, "bad-visit-reference", 2)
                self.assertNotIn(bad, reply.lines[0]["text"])
        self.office.ok("open", labels[0]["package"], "--visit", "1234567890ABC-DE", *office.EYES)

    def test_an_unchanged_internal_indicator_holds_its_load(self):
        """R22"""
        _, labels = self.office.released(2)
        self.office.ok("open", labels[0]["package"], *office.EYES)
        opened = self.office.ok("opened", labels[0]["package"], "--internal", "unchanged")[0]
        self.assertIsInstance(opened["incident"], int)
        other = self.office.run("check", "--id", labels[1]["package"])
        self.assertEqual((other.status, office.codes(other.lines[0])), (10, ["incident-open"]))

    def test_an_unopened_package_has_no_internal_indicator(self):
        _, labels = self.office.released()
        reply = self.office.run("opened", labels[0]["package"], "--internal", "changed")
        self.check_failure(reply, "package-wrong-state", 20)

    def test_a_type_n_sterilizer_takes_nothing_wrapped_or_hollow(self):
        """R30"""
        load = self.office.open_load("N1", "steam-134")
        labels = self.office.labels(load)
        self.check_failure(self.office.run("load", "add", load, labels[0]["package"]), "program-not-allowed", 20)
        self.check_failure(self.office.run("load", "add", load, "--unwrapped", "TIPS"), "program-not-allowed", 20)
        self.office.ok("load", "add", load, "--unwrapped", "EXAM:2")
        self.office.ok("load", "start", load)

    def test_the_clock_is_accepted_by_a_lead_only(self):
        self.check_failure(self.office.run("clock", "accept", "--why", "x"), "lead-required", 20)
        self.office.ok("clock", "accept", "--why", "new battery", operator="MB")
        self.assertEqual(self.office.events()[-1]["kind"], "clock-corrected")

    def test_every_step_is_an_event_of_its_operator(self):
        """R57"""
        self.office.test_of_the_day()
        before = len(self.office.events())
        _, labels = self.office.released()
        self.office.run("check", "--id", labels[0]["package"])
        kinds = [event["kind"] for event in self.office.events()[before:]]
        self.assertEqual(len(kinds), 9)
        self.assertEqual({event["operator"] for event in self.office.events()[before:]}, {"JT"})

    def test_the_ledger_is_exported_as_lines_and_as_csv(self):
        lines = self.office.events()
        out = self.office.run("ledger", "export", "--format", "csv", json_wanted=False).out
        rows = list(csv.DictReader(io.StringIO(out.decode("utf-8"), newline="")))
        self.assertEqual([int(row["sequence"]) for row in rows], list(range(1, len(lines) + 1)))
        self.assertEqual([row["hash"] for row in rows], [line["hash"] for line in lines])
        self.assertEqual([line["previous"] for line in lines[1:]], [line["hash"] for line in lines[:-1]])


class Check(Shared):
    """One released package and one running, asked about in every way."""

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.clear = cls.made.released()[1][0]
        cls.held = cls.made.running()[1][0]

    def test_an_id_is_typed_as_people_type(self):
        package = self.clear["package"]
        grouped = f"{package[:3]}-{package[3:6]}-{package[6:]}"
        confused = package.replace("1", "L").replace("0", "O")
        for typed in (package, package.lower(), grouped, grouped.lower(), grouped.replace("-", " "), confused,
                      package.replace("1", "I"), confused.lower()):
            with self.subTest(typed):
                reply = self.office.run("check", "--id", typed)
                self.assertEqual((reply.status, reply.lines[0]["package"]), (0, package))
                self.assertIn("compare-by-eye", reply.lines[0]["notes"])

    def test_ids_and_payloads_are_interchangeable(self):
        for reference in (self.clear["package"], self.clear["payload"], self.clear["package"].lower()):
            with self.subTest(reference):
                moved = self.office.ok("shelve", reference, "--location", "CAB1")
                self.assertEqual(moved[0]["package"], self.clear["package"])
                for option, typed in itertools.product(("--id", "--text"), (reference, f" {reference}\n")):
                    reply = self.office.run("check", option, typed)
                    self.assertEqual((reply.status, reply.lines[0]["package"]), (0, self.clear["package"]))
                    by_eye = "compare-by-eye" in reply.lines[0]["notes"]
                    self.assertEqual(by_eye, reference != self.clear["payload"])

    def test_the_exit_status_is_the_worst_answers(self):
        self.assertEqual(self.office.run("check", "--text", self.clear["payload"]).status, 0)
        both = self.office.run("check", "--text", self.held["payload"], "--text", self.clear["payload"])
        self.assertEqual((both.status, [line["outcome"] for line in both.lines]), (10, ["hold", "clear"]))

    def test_scanner_lines_end_by_lf_or_crlf(self):
        lines = f"{self.clear['payload']}\r\n{self.clear['package'].lower()}\n\r\n{self.held['payload']}"
        reply = self.office.run("check", "--wedge", input=lines.encode())
        self.assertEqual([line["outcome"] for line in reply.lines], ["clear", "clear", "hold"])
        self.assertEqual(reply.status, 10)

    def test_nothing_at_all_is_one_hold(self):
        reply = self.office.run("check", "--wedge", input=b"")
        self.assertEqual((reply.status, [office.codes(line) for line in reply.lines]), (10, [["not-a-package-label"]]))

    def test_a_check_is_an_event(self):
        before = len(self.office.events())
        self.office.run("check", "--id", self.clear["package"], operator=None)
        self.assertEqual([event["kind"] for event in self.office.events()[before:]], ["package-checked"])

    def scanning(self, *options):
        command = [office.PROGRAM, "--office", self.office.folder, "check", "--wedge", "--json", *options]
        scanner = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                   env=office.surroundings())
        self.addCleanup(scanner.communicate)
        self.addCleanup(scanner.kill)
        scanner.stdin.write(self.clear["payload"].encode() + b"\r\n")
        scanner.stdin.flush()
        self.assertIn(b'"clear"', scanner.stdout.readline())  # flushed while the input is still open
        return scanner

    def test_a_stream_flushes_each_answer_and_ends_with_its_input(self):
        scanner = self.scanning()
        out, _ = scanner.communicate(timeout=office.SECONDS)
        self.assertEqual((scanner.returncode, out), (0, b""))

    def test_a_stream_ends_at_an_interrupt_with_the_worst_status(self):
        for wanted in (signal.SIGINT, signal.SIGTERM):
            scanner = self.scanning()
            scanner.send_signal(wanted)
            self.assertEqual(scanner.wait(timeout=office.SECONDS), 0)

    def test_a_stream_ends_after_its_seconds(self):
        began = time.monotonic()
        scanner = self.scanning("--for", "1")
        self.assertEqual(scanner.wait(timeout=office.SECONDS), 0)
        self.assertGreaterEqual(time.monotonic() - began, 1)


if __name__ == "__main__":
    office.main()
