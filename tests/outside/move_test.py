"""An office moves from a folder to a group's database and back: through the command line."""

import stat
import subprocess

import office
import postgres


class Machine(office.Office):
    """An office by folder or address, on a machine whose own files lie in `home`."""

    def __init__(self, place, home):
        super().__init__(home / "unused")
        self.place, self.home = str(place), home

    def run(self, *arguments, operator="JT", **more):
        who = ["--operator", operator] if operator else []
        env = office.surroundings(self.at, HOME=str(self.home), XDG_DATA_HOME=str(self.home / "data"),
                                  XDG_STATE_HOME=str(self.home / "state"))
        return office.run("--office", self.place, *who, *arguments, env=env, **more)

    def pdf(self):
        self.files += 1
        return self.home / f"labels-{self.files}.pdf"


class Move(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.server = cls.enterClassContext(postgres.Server())
        reply = office.run("group", "prepare", "--as", cls.server.address())
        if reply.status:
            raise AssertionError(reply.out.decode() + reply.err)

    def setUp(self):
        super().setUp()
        self.role = "office_" + self._testMethodName.lower()
        subprocess.run([postgres.BINARIES[-1] / "psql", "-qX", "-v", "ON_ERROR_STOP=1", "-c",
                        f"CREATE ROLE {self.role} LOGIN IN ROLE loadlight_station", self.server.address()], check=True,
                       stdout=subprocess.DEVNULL)
        reply = office.run("group", "admit", "--as", self.server.address(), "--name", self.role, "--role", self.role)
        self.assertEqual(reply.status, 0, reply.err)
        self.old = Machine(self.folder / "office", self.folder)
        self.new = Machine(self.server.address(self.role), self.folder)

    def move(self, here, there, **more):
        return here.run("office", "move", "--to", there.place, operator="MB", **more)

    def test_1_there_and_back(self):
        self.old.fill()
        _, labels = self.old.released(2)
        ledger = self.old.events()
        reply = self.move(self.old, self.new)
        self.assertEqual(reply.status, 0, reply.out.decode() + reply.err)
        self.assertIn(str(len(ledger)), reply.err)
        self.assertEqual(self.new.events(), ledger)
        self.assertEqual(self.new.run("ledger", "verify").status, 0)
        self.check_failure(self.old.run("due"), "office-moved", 1)
        self.assertIn(self.role, self.old.run("due").lines[0]["text"])
        held = self.old.run("check", "--text", labels[0]["payload"])
        self.assertEqual(held.status, 10, held.out)
        self.assertEqual(self.new.run("check", "--text", labels[0]["payload"]).status, 0)
        again = self.move(self.old, self.new)
        self.assertTrue(again.lines[0]["was_done"], again.out)
        self.assertEqual(self.move(self.new, self.old).status, 0)
        self.check_failure(self.new.run("due"), "office-moved", 1)
        self.assertEqual(self.old.run("check", "--text", labels[1]["payload"]).status, 0)
        self.assertEqual(self.old.run("ledger", "verify").status, 0)
        self.assertEqual(self.move(self.old, self.new).status, 0)
        self.assertEqual(self.new.run("open", labels[0]["package"], *office.EYES).status, 0)
        self.assertEqual(self.new.run("ledger", "verify").status, 0)

    def test_2_a_lead_moves_and_nobody_into_an_office_at_work(self):
        self.old.fill()
        other = Machine(self.folder / "other", self.folder).fill()
        self.check_failure(self.old.run("office", "move", "--to", self.new.place), "lead-required", 20)
        self.check_failure(self.move(self.old, other), "office-exists", 20)
        self.assertEqual(self.old.run("due").status, 0)
        self.assertEqual(other.run("due").status, 0)

    def test_3_killed_at_any_moment_it_is_said_again(self):
        self.old.fill()
        _, labels = self.old.released(3)
        env = office.surroundings(HOME=str(self.folder), XDG_DATA_HOME=str(self.folder / "data"),
                                  XDG_STATE_HOME=str(self.folder / "state"))
        command = [office.PROGRAM, "--office", self.old.place, "--operator", "MB", "office", "move", "--to", self.new.place]
        for milliseconds in range(10, 400, 30):
            with subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as moving:
                try:
                    moving.wait(milliseconds / 1000)
                except subprocess.TimeoutExpired:
                    moving.kill()
            answers = [place.run("check", "--text", labels[0]["payload"]).status for place in (self.old, self.new)]
            self.assertLessEqual(answers.count(0), 1, "two places clear the same package")
        self.assertEqual(self.move(self.old, self.new).status, 0)
        self.assertEqual(self.new.run("ledger", "verify").status, 0)
        self.assertEqual(self.new.run("check", "--text", labels[0]["payload"]).status, 0)

    def test_4_a_backup_comes_back_into_a_group(self):
        self.old.fill()
        _, labels = self.old.released(2)
        archive = self.folder / "backup.tar"
        self.old.ok("ledger", "backup", "--out", archive, operator="MB")
        self.old.ok("open", labels[0]["package"], *office.EYES)
        far = Machine("postgresql://nobody@/none?host=/nowhere", self.folder / "far")
        far.home.mkdir()
        self.check_failure(far.run("ledger", "restore", archive, "--into", far.place, operator="MB"), "office-unreadable", 1)
        self.assertEqual([], list((self.folder / "far").rglob("restored-*")))
        restoring = ("ledger", "restore", archive, "--into", self.new.place)
        self.check_failure(self.new.run("ledger", "restore", self.folder / "none.tar", *restoring[3:], operator="MB"), "file-unreadable", 1)
        self.check_failure(self.new.run(*restoring), "lead-required", 20)
        line = self.new.run(*restoring, "--beside", self.old.place, operator="MB")
        self.assertEqual(0, line.status, line.out.decode() + line.err)
        self.assertEqual([labels[0]["package"]], [one["package"] for one in line.lines[1:]])
        kept = next(self.folder.rglob("restored-*"))
        self.assertEqual([0o700, 0o700], [stat.S_IMODE(folder.stat().st_mode) for folder in (kept, kept.parent)])
        self.assertEqual(self.new.run("ledger", "verify").status, 0)
        self.assertEqual(self.new.run("check", "--text", labels[1]["payload"]).status, 0)
        self.assertEqual([event["kind"] for event in self.new.events()][-2:], ["record-restored", "package-checked"])
        self.check_failure(self.new.run(*restoring, operator="MB"), "office-exists", 20)


if __name__ == "__main__":
    office.main()
