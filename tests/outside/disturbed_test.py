"""Many at once, and killed at any moment: the record stays whole, and a package is opened once."""

import concurrent.futures
import random
import subprocess
import time

import office

AT_ONCE = 12
SEED = 20261125


def at_once(work, count):
    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as crowd:
        return list(crowd.map(work, range(count)))


class Disturbed(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.made = office.filled_office(cls)

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")

    def label(self, load, count, out):
        return ["--office", self.office.folder, "--operator", "JT", "label", "--contents", "EXAM", "--count",
                str(count), "--load", load, "--kind", "P", "--packed", "--out", out]

    def check_whole(self):
        self.assertEqual(self.office.ok("ledger", "verify"), [])

    def test_many_checks_at_once_are_all_answered_and_all_recorded(self):
        _, labels = self.office.released(3)
        before = len(self.office.events())
        replies = at_once(lambda i: self.office.run("check", "--id", labels[i % 3]["package"]), 40)
        self.assertEqual({(reply.status, reply.lines[0]["outcome"]) for reply in replies}, {(0, "clear")})
        self.assertEqual(len(self.office.events()), before + 40)
        self.check_whole()

    def test_many_prints_at_once_are_all_in_the_record(self):
        load = self.office.open_load()
        replies = at_once(lambda i: office.run(*self.label(load, 2, self.folder / f"{i}.pdf")), 16)
        printed = sorted(line["package"] for reply in replies for line in reply.lines)
        shown = self.office.ok("load", "show", load)[0]["packages"]
        self.assertEqual((len(set(printed)), sorted(each["package"] for each in shown)), (32, printed))
        self.check_whole()

    def test_of_many_who_open_the_same_package_one_does(self):
        """R41"""
        _, labels = self.office.released()
        replies = at_once(lambda _: self.office.run("open", labels[0]["package"], *office.EYES), 12)
        self.assertEqual(sorted(reply.status for reply in replies), [0] + [20] * 11)
        self.check_whole()

    def test_of_many_terminals_that_start_the_same_load_one_does(self):
        """R19, R60"""
        load = self.office.open_load()
        self.office.ok("load", "add", load, self.office.labels(load)[0]["package"])
        replies = at_once(lambda _: self.office.run("load", "start", load), 8)
        self.assertEqual(sorted(reply.status for reply in replies), [0] + [20] * 7)
        for reply in replies:
            if reply.status:
                self.check_failure(reply, "load-wrong-state", 20)
        self.assertEqual([event["kind"] for event in self.office.events()].count("load-started"), 1)
        self.check_whole()

    def test_of_many_who_release_the_same_load_one_does(self):
        load, _ = self.office.evident()
        replies = at_once(lambda _: self.office.run("load", "release", load), 8)
        self.assertEqual(sorted(reply.status for reply in replies), [0] + [20] * 7)
        self.check_whole()

    def test_a_print_killed_at_any_moment_is_whole_or_never_was(self):
        load, dice, fates = self.office.open_load(), random.Random(SEED), set()
        for number in range(30):
            before = len(self.office.ok("load", "show", load)[0]["packages"])
            out = self.folder / f"{number}.pdf"
            printing = subprocess.Popen([office.PROGRAM, *self.label(load, 20, out)], env=office.surroundings(),
                                        stdout=subprocess.DEVNULL)
            time.sleep(dice.uniform(0, 0.3))
            printing.kill()
            printing.wait()
            made = len(self.office.ok("load", "show", load)[0]["packages"]) - before
            self.assertIn(made, (0, 20))
            if made:
                self.assertTrue(out.read_bytes().startswith(b"%PDF"))
            fates.add(made)
        self.check_whole()
        self.assertLessEqual({path.name for path in self.office.folder.iterdir()},
                             {"record.db", "record.db-wal", "record.db-shm", "keys.json"})

    def kill_an_init(self, folder, after):
        making = subprocess.Popen([office.PROGRAM, "--office", folder, "init"], env=office.surroundings(),
                                  stdout=subprocess.DEVNULL)
        time.sleep(after)
        making.kill()
        making.wait()

    def test_an_office_whose_making_was_killed_is_there_or_can_be_made(self):
        began = time.monotonic()
        office.Office(self.folder / "timed").ok("init")
        longest, dice = time.monotonic() - began, random.Random(SEED)
        for number in range(60):
            made = office.Office(self.folder / f"new-{number}")
            self.kill_an_init(made.folder, dice.uniform(0, longest))
            left = sorted(path.name for path in made.folder.glob("*"))
            with self.subTest(number, left=left):
                self.assertIn(made.run("check", "--id", "0000000000").status, (10, 20))
                again = made.run("init")
                if again.status != 0:
                    self.check_failure(again, "office-exists", 20)
                made.ok("operator", "add", "MB", "--name", "M")
                self.assertEqual(made.ok("ledger", "verify"), [])


if __name__ == "__main__":
    office.main()
