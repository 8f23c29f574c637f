"""A faulty lot of indicators or pouches is called back, through the command line alone."""

import office

WHY = ("--why", "its maker called it back")
RECALL_KEYS = {"package", "load", "disposition", "location", "visit"}


class Lots(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.made = office.filled_office(cls)

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")
        self.office.at = "2027-03-08 08:00:00"

    def recall(self, lot):
        lines = self.office.ok("consumable", "recall", lot, *WHY)
        packages = {line["package"]: line for line in lines if "package" in line}
        return lines[-1], {line["load"]: line for line in lines if "state" in line}, packages

    def outcome(self, package):
        line = self.office.run("check", "--id", package).lines[0]
        return line["outcome"], office.codes(line)

    def test_a_lot_of_indicators(self):
        load, (shelved, used) = self.office.released(2)
        self.office.ok("shelve", shelved["package"], used["package"], "--location", "CAB1")
        self.office.ok("open", used["package"], "--visit", "V-1001", *office.EYES)
        self.assertEqual(self.outcome(shelved["package"]), ("clear", []))
        summary, loads, packages = self.recall("CI-0417")
        self.assertEqual((summary["lot"], summary["known"], summary["added"], summary["loads"], summary["packages"]),
                         ("CI-0417", True, True, 1, 2))
        self.assertEqual(loads[load]["state"], "recalled")
        self.assertLessEqual(RECALL_KEYS, set(packages[used["package"]]))
        self.assertEqual((packages[used["package"]]["disposition"], packages[used["package"]]["visit"]), ("opened", "V-1001"))
        self.assertEqual(packages[shelved["package"]]["location"], "CAB1")
        self.assertEqual(self.outcome(shelved["package"]), ("do-not-use", ["load-recalled", "incident-open"]))
        events = len(self.office.events())
        again, same_loads, same_packages = self.recall("CI-0417")
        self.assertEqual((again["added"], same_loads, same_packages), (False, loads, packages))
        lines = self.office.ok("recall", "--incident", loads[load]["incident"])
        self.assertEqual({line["package"] for line in lines}, set(packages))
        later, _ = self.office.evident()
        refused = self.office.run("load", "release", later)
        self.assertEqual((refused.status, office.codes(refused.lines[0])), (10, ["consumable-recalled"]))
        self.assertGreater(len(self.office.events()), events)
        self.assertEqual(self.office.run("ledger", "verify", operator=None).status, 0)

    def test_a_lot_of_pouches_and_its_incident_to_the_end(self):
        self.office.ok("consumable", "add", "--lot", "PX-22", "--kind", "pouch", "--name", "Pouch", "--expires", "2031-01-01")
        load, (label,) = self.office.released()
        summary, loads, packages = self.recall("PX-22")
        self.assertEqual((summary["packages"], list(loads), list(packages)), (1, [load], [label["package"]]))
        self.assertEqual(self.outcome(label["package"]), ("do-not-use", ["package-recalled", "incident-open"]))
        incident = loads[load]["incident"]
        for step, finding in (("set-lot-aside", "done"), ("decide-load", "lift-hold")):
            self.office.ok("incident", "step", incident, step, "--finding", finding, operator="MB")
        self.check_failure(self.office.run("incident", "close", incident, operator="MB"), "incident-unfinished", 20)
        self.office.ok("incident", "account", incident, label["package"], "--as", "withdrawn")
        self.office.ok("incident", "close", incident, operator="MB")
        self.assertFalse(self.recall("PX-22")[0]["added"])
        self.assertEqual(self.office.run("ledger", "verify", operator=None).status, 0)

    def test_a_lot_that_nobody_knows_is_barred(self):
        reply = self.office.run("consumable", "recall", "NOWHERE", *WHY, json_wanted=False)
        self.assertEqual(reply.status, 0, reply.err)
        self.assertIn(b"NOWHERE", reply.out)
        self.assertFalse(self.recall("NOWHERE")[0]["known"])
        self.check_failure(self.office.run("consumable", "recall", "NOWHERE", "--why", ""), "reason-missing", 2)
        self.assertEqual(self.office.run("consumable", "recall", "NOWHERE").status, 2)


if __name__ == "__main__":
    office.main()
