"""A station that is cut off from the office's database: its checks hold within a few seconds, never hang and never
clear, and when the line is back they answer as before by themselves.

    python3 tests/group/cut_test.py

The line is a relay of this test's own, which is stopped (what is sent vanishes) and killed (lines are cut).
"""
import subprocess
import threading
import time
import unittest

import relay
import workday

# A check that is under way when the line goes silent asks whether the server lives, and tries once more.
LONGEST = 10.0
AWAY = 12.0


class Watch:
    """`station_work watch`: checks one released package again and again; its answers with when each was asked."""

    def __init__(self, address):
        self.process = subprocess.Popen([workday.PROGRAM, "watch", address], stdout=subprocess.PIPE, text=True)
        self.answers = []  # (asked, answered, outcome), in seconds of time.time()
        self.reader = threading.Thread(target=self.read, daemon=True)
        self.reader.start()

    def read(self):
        for line in self.process.stdout:
            asked, answered, outcome = line.split()
            self.answers.append((int(asked) / 1000, int(answered) / 1000, outcome))

    def wait_for(self, outcome, since, seconds):
        end = time.time() + seconds
        while time.time() < end:
            if any(asked >= since and one == outcome for asked, _, one in list(self.answers)):
                return time.time()
            time.sleep(0.05)
        raise AssertionError(f"no {outcome} in {seconds} s: {self.answers[-5:]}")

    def stop(self):
        self.process.kill()
        self.process.wait()
        self.reader.join(10)
        self.process.stdout.close()


class Cut(unittest.TestCase):
    def test_a_line_that_goes_silent(self):
        self.cut(lambda line: line.stop(), lambda line: line.go_on(), "silent")

    def test_a_line_that_is_cut(self):
        self.cut(lambda line: line.kill(), lambda line: line.start(), "cut")

    def cut(self, off, on, how):
        with workday.postgres.Server() as server:
            workday.make_office(server)
            with relay.Relay(server.folder / f".s.PGSQL.{workday.postgres.PORT}") as line:
                watch = Watch(f"postgresql://{workday.ROLE}@127.0.0.1:{line.port}/{workday.DATABASE}")
                try:
                    self.watch(watch, line, off, on, how)
                finally:
                    watch.stop()

    def watch(self, watch, line, off, on, how):
        watch.wait_for("clear", 0, 60)
        gone = time.time()
        off(line)
        time.sleep(AWAY)
        back = time.time()
        during = [answer for answer in watch.answers if answer[1] > gone + 0.5]
        on(line)
        again = watch.wait_for("clear", back, 30)
        self.assertTrue(during, f"{how}: no answer while the line was away")
        self.assertEqual({outcome for _, _, outcome in during}, {"hold"})
        longest = max(answered - asked for asked, answered, _ in during)
        self.assertLess(longest, LONGEST)
        print(f"{how}: {len(during)} answers in {AWAY:.0f} s, all hold, the longest after {longest:.1f} s; clear again "
              f"{again - back:.1f} s after the line was back", flush=True)


if __name__ == "__main__":
    unittest.main()
