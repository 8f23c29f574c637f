"""Who does what: every event names its operator, keys are changed by a lead, and what is private stays so."""

import json
import os
import pathlib
import stat
import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor

import office
import station

# Events that may name nobody: an office that is only being made has nobody, a look needs no name.
NAMELESS = {"office-made", "package-checked"}
NAMELESS_IN_DEMO = NAMELESS


def ledger(folder):
    return office.run("--office", folder, "ledger", "export").lines


class People(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def filled(self):
        return office.Office(self.folder / "office").fill()

    def keys(self, where):
        return json.loads((where.folder / "keys.json").read_text())["keys"]

    # ---- every event names its operator ----
    def test_every_event_of_the_demo_office_names_its_operator(self):
        made = office.run("--office", self.folder / "demo", "init", "--demo")
        self.assertEqual(0, made.status, made.err)
        entries = ledger(self.folder / "demo")
        self.assertGreater(len(entries), 200)
        self.assertEqual(set(), {each["kind"] for each in entries if not each["operator"]} - NAMELESS)

    def test_every_event_of_a_day_names_its_operator(self):
        day = self.filled()
        load, labels = day.released(2)
        day.run("check", "--id", labels[0]["package"], operator=None)
        day.ok("open", labels[0]["package"], *office.EYES)
        day.ok("shelve", labels[1]["package"], "--location", "CAB1")
        day.ok("withdraw", labels[1]["package"], "--why", "torn")
        day.ok("load", "revoke", load, "--why", "the seal leaks")
        entries = ledger(day.folder)
        nameless = {each["kind"] for each in entries if not each["operator"]}
        self.assertEqual(set(), nameless - NAMELESS)
        self.assertIn("package-checked", nameless)
        known = {"MB", "JT"}
        self.assertEqual(set(), {each["operator"] for each in entries if each["operator"]} - known)

    # ---- keys ----
    def test_a_new_key_signs_and_what_was_signed_before_still_verifies(self):
        at_work = self.filled()
        load, labels = at_work.released(1)
        before = at_work.folder / "keys.json"
        first = self.keys(at_work)
        refused = at_work.run("key", "add")
        self.assertEqual((20, "lead-required"), (refused.status, refused.lines[0]["error"]))
        self.assertEqual(first, self.keys(at_work))
        added = at_work.ok("key", "add", operator="MB")[0]
        self.assertEqual({"key": 2, "found": False}, added)
        self.assertEqual(first, self.keys(at_work)[:1])
        self.assertEqual(0o600, stat.S_IMODE(before.stat().st_mode))
        self.assertEqual("clear", at_work.ok("check", "--text", labels[0]["payload"])[0]["outcome"])
        _, newer = at_work.released(1)
        self.assertEqual("clear", at_work.ok("check", "--text", newer[0]["payload"])[0]["outcome"])
        event = next(each for each in ledger(at_work.folder) if each["kind"] == "key-added")
        self.assertEqual(("MB", "key-2"), (event["operator"], event["subject"]))
        lines = at_work.ok("key", "list", operator=None)
        self.assertEqual([(1, False), (2, True)], [(line["key"], line["signs"]) for line in lines])
        self.assertEqual(0, at_work.run("ledger", "verify").status)
        (at_work.folder / "keys.json").write_text(json.dumps({"keys": first}))  # without the new key
        os.chmod(at_work.folder / "keys.json", 0o600)
        stranger = at_work.run("check", "--text", newer[0]["payload"]).lines[0]
        self.assertEqual(["label-not-authentic"], [reason["code"] for reason in stranger["reasons"]])

    def test_a_running_station_signs_and_verifies_by_a_new_key_at_once(self):
        at_work = self.filled()
        at_work.test_of_the_day()
        with station.Station(at_work.folder) as serving:
            browser = serving.browser()
            browser.page("/check")
            at_work.ok("key", "add", operator="MB")
            _, labels = at_work.released(1)
            cards = browser.send("/check", "/check/text", {"text": labels[0]["payload"]}).json["cards"]
            self.assertEqual(["clear"], [card["outcome"] for card in cards])

    def test_the_station_adds_a_key_for_a_lead_with_a_pin(self):
        at_work = self.filled()
        pins = {code: at_work.ok("operator", "pin", code, operator="MB")[0]["pin"] for code in ("MB", "JT")}
        with station.Station(at_work.folder) as serving:
            browser = serving.browser()
            browser.sign_in("JT", pins["JT"])
            self.assertEqual("lead-required", browser.send("/set-up/keys", "/set-up/keys").json["error"])
            self.assertEqual(1, len(self.keys(at_work)))
            browser.sign_in("MB", pins["MB"])
            self.assertIn("done=key-added", browser.send("/set-up/keys", "/set-up/keys").json["go"])
            self.assertEqual(2, len(self.keys(at_work)))
            page = browser.page("/set-up/keys")
            for key in self.keys(at_work):
                self.assertNotIn(key["key"], page)

    def test_keys_added_at_once_are_each_kept_and_told(self):
        at_work = self.filled()
        with ThreadPoolExecutor(4) as pool:
            replies = list(pool.map(lambda _: at_work.run("key", "add", operator="MB"), range(4)))
        done = [reply.lines[0]["key"] for reply in replies if reply.status == 0]
        self.assertTrue(done)
        self.assertEqual(sorted(done), list(range(2, 2 + len(done))))
        self.assertEqual(1 + len(done), len(self.keys(at_work)))
        told = [each["subject"] for each in ledger(at_work.folder) if each["kind"] == "key-added"]
        self.assertEqual([f"key-{number}" for number in sorted(done)], told)

    def test_a_key_whose_event_was_lost_is_told_and_put_on_record(self):
        at_work = self.filled()
        keys = self.keys(at_work)
        keys.append({"id": 2, "made_at": keys[0]["made_at"], "key": "ab" * 32})  # as a cut between file and event
        (at_work.folder / "keys.json").write_text(json.dumps({"keys": keys}))
        _, labels = at_work.released(1)
        self.assertEqual("clear", at_work.ok("check", "--text", labels[0]["payload"])[0]["outcome"])
        self.assertEqual("", at_work.ok("key", "list")[1]["at"])
        plain = at_work.run("key", "list", json_wanted=False)
        self.assertIn(b"not on record", plain.out)
        self.assertEqual({"key": 2, "found": True}, at_work.ok("key", "add", operator="MB")[0])
        self.assertEqual(keys, self.keys(at_work))
        self.assertNotEqual("", at_work.ok("key", "list")[1]["at"])

    # ---- private files ----
    def test_what_is_private_is_so_under_any_umask(self):
        before = os.umask(0)
        try:
            at_work = self.filled()
            pin = at_work.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
            load, labels = at_work.released(1)
            at_work.ok("key", "add", operator="MB")
            out = self.folder / "record.pdf"
            at_work.ok("load", "report", load, "--out", out)
            with station.Station(at_work.folder, arguments=["--lan"]) as serving:
                del serving, pin
            with station.Station(at_work.folder) as serving:  # while the record is open its log lies beside it
                serving.browser().page("/check")
                for file in [*at_work.folder.iterdir(), out, *self.folder.glob("*.pdf")]:
                    public = file.name in ("authority.pem", "station.pem")  # certificates: made to be shown
                    with self.subTest(file.name):
                        self.assertEqual(0, stat.S_IMODE(file.stat().st_mode) & (0o022 if public else 0o077))
            self.assertEqual(0o700, stat.S_IMODE(at_work.folder.stat().st_mode))
        finally:
            os.umask(before)

    def test_keys_that_others_read_are_told_at_every_command_and_on_the_set_up_page(self):
        at_work = self.filled()
        pin = at_work.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        self.assertEqual("", at_work.run("due").err)
        os.chmod(at_work.folder / "keys.json", 0o644)
        told = at_work.run("due")
        self.assertEqual(0, told.status)
        self.assertIn("keys.json", told.err)
        with station.Station(at_work.folder) as serving:
            browser = serving.browser()
            browser.sign_in("MB", pin)
            self.assertIn('id="exposed"', browser.page("/set-up"))
            os.chmod(at_work.folder / "keys.json", 0o600)
            self.assertNotIn('id="exposed"', browser.page("/set-up"))


if __name__ == "__main__":
    office.main()
