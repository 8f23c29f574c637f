"""Three offices in one database of PostgreSQL, a role each, and one role that leads them: through the command line."""

import os
import pathlib
import subprocess
import tempfile

import office
import postgres

OFFICES = {"East": "east", "North": "north", "West": "west"}
WHY = ("--why", "its maker called it back")


class Shared(office.Office):
    """One whose record lies in the server; `home` is its station's machine."""

    def __init__(self, address, home):
        super().__init__(home / "unused")
        self.address, self.home = address, home

    def run(self, *arguments, operator="JT", **more):
        who = ["--operator", operator] if operator else []
        env = office.surroundings(self.at, HOME=str(self.home), XDG_DATA_HOME=str(self.home / "data"))
        return office.run("--office", self.address, *who, *arguments, env=env, **more)

    def pdf(self):
        self.files += 1
        return self.home / f"labels-{self.files}.pdf"


class Group(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.server = cls.enterClassContext(postgres.Server())
        cls.folder_of_all = pathlib.Path(cls.enterClassContext(tempfile.TemporaryDirectory(prefix="loadlight-outside-")))
        cls.admin = cls.server.address()
        cls.lead = Shared(cls.server.address("lead"), cls.home("lead"))
        cls.group("prepare")
        for role in (*OFFICES.values(), "lead", "stranger"):
            cls.sql(f"CREATE ROLE {role} LOGIN IN ROLE loadlight_station")
        cls.offices, cls.packages = {}, {}
        for name, role in OFFICES.items():
            cls.group("admit", "--name", name, "--role", role)
            cls.offices[name] = Shared(cls.server.address(role), cls.home(role)).fill()
        cls.group("admit-lead", "--role", "lead")

    @classmethod
    def home(cls, name):
        (cls.folder_of_all / name).mkdir()
        return cls.folder_of_all / name

    @classmethod
    def group(cls, verb, *more):
        reply = office.run("group", verb, "--as", cls.admin, *more)
        if reply.status:
            raise AssertionError(reply.out.decode() + reply.err)

    @classmethod
    def sql(cls, statement):
        subprocess.run([postgres.BINARIES[-1] / "psql", "-qX", "-v", "ON_ERROR_STOP=1", "-c", statement, cls.admin], check=True,
                       stdout=subprocess.DEVNULL)

    def ask(self, *arguments, **more):
        return self.lead.run("group", *arguments, **more)

    def test_1_offices_are_named_to_the_lead_alone(self):
        self.assertEqual([line["office"] for line in self.lead.ok("group", "offices")], list(OFFICES))
        for role in ("east", "stranger"):
            reply = Shared(self.server.address(role), self.folder).run("group", "offices")
            self.assertEqual((reply.status, reply.lines), (0, []))
            reply = Shared(self.server.address(role), self.folder).run("group", "due")
            self.assertEqual((reply.status, reply.lines), (0, []))
        again = office.run("group", "prepare", "--as", self.admin)
        self.assertEqual(again.status, 0)
        self.assertEqual(office.run("group", "prepare", "--as", self.server.address("east")).status, 0)
        refused = office.run("group", "admit", "--as", self.server.address("east"), "--name", "West", "--role", "east")
        self.assertNotEqual(refused.status, 0)
        self.check_worded(refused)

    def test_2_what_is_due_and_what_failed_is_told_office_by_office(self):
        west = self.offices["West"]
        load, _ = west.running()
        west.ok("load", "finish", load, "--aborted", "door opened")
        undecided, _ = self.offices["East"].running()
        failed = self.lead.ok("group", "loads", "--failed")
        self.assertEqual([(line["office"], line["sterilizer"], line["load"], line["state"]) for line in failed],
                         [("West", "S1", load, "aborted")])
        self.assertIn(("East", undecided), [(line["office"], line["load"]) for line in self.lead.ok("group", "loads")])
        due = self.lead.ok("group", "due")
        self.assertIn("East", {line["office"] for line in due})
        self.assertTrue(all(line["office"] in OFFICES for line in due))

    def test_3_a_lot_is_recalled_in_every_office_in_one_step(self):
        packages = {}
        for name, each in self.offices.items():
            each.ok("consumable", "add", "--lot", "CI-0417", "--kind", "chemical", "--name", "Strip", "--expires", "2099-12-31")
            packages[name] = each.released()[1][0]["package"]
            self.assertEqual(each.run("check", "--id", packages[name]).status, 0)
        self.sql("UPDATE loadlight.operators SET last_day = 20200101 WHERE code = 'JT' AND office_no ="
                 " (SELECT office_no FROM loadlight.offices WHERE name = 'North')")
        cut = self.ask("recall-lot", "CI-0417", *WHY)
        self.assertEqual(cut.status, 1)
        self.assertEqual([line["office"] for line in cut.lines if "error" in line], ["North"])
        statuses = {name: each.run("check", "--id", packages[name]).status for name, each in self.offices.items()}
        self.assertEqual(statuses, {"East": 20, "North": 0, "West": 20})
        self.sql("UPDATE loadlight.operators SET last_day = NULL WHERE code = 'JT'")
        whole = self.lead.ok("group", "recall-lot", "CI-0417", *WHY)
        summaries = {line["office"]: line["added"] for line in whole if "lot" in line}
        self.assertEqual(summaries, {"East": False, "North": True, "West": False})
        self.assertLessEqual({(name, package) for name, package in packages.items()},
                             {(line["office"], line["package"]) for line in whole if "package" in line})
        for name, each in self.offices.items():
            self.assertEqual(each.run("check", "--id", packages[name]).status, 20)
            self.assertEqual(each.run("ledger", "verify", operator=None).status, 0)
        self.assertEqual({line["office"] for line in self.lead.ok("group", "incidents")}, set(OFFICES))
        lots = self.lead.ok("group", "consumables")
        self.assertEqual({(line["office"], line["lot"], line["recalled"]) for line in lots},
                         {(name, "CI-0417", True) for name in OFFICES})

    def test_4_no_role_opens_another_office(self):
        stranger = Shared(self.server.address("stranger"), self.folder)
        reply = stranger.run("due")
        self.assertNotEqual(reply.status, 0)
        self.check_worded(reply)
        reply = self.lead.run("due")  # leads, and has an office of its own nowhere
        self.assertNotEqual(reply.status, 0)
        self.check_worded(reply)

    def test_5_an_office_that_is_not_begun_is_told_and_the_others_answered(self):
        self.sql("CREATE ROLE south LOGIN IN ROLE loadlight_station")
        self.group("admit", "--name", "South", "--role", "south")
        reply = self.ask("due")
        self.assertEqual(reply.status, 1)
        self.assertEqual([line["office"] for line in reply.lines if "error" in line], ["South"])
        self.assertIn("East", {line["office"] for line in reply.lines})
        for_people = self.ask("due", json_wanted=False)
        self.assertIn("South", for_people.err)

    def test_6_without_a_server_it_is_said_so(self):
        reply = Shared("postgresql://lead@/postgres?host=/nowhere", self.folder).run("group", "due")
        self.check_failure(reply, "office-unreadable", 1)


if __name__ == "__main__":
    os.umask(0o077)
    office.main()
