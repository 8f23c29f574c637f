"""Two servers, the second following the first; the first is killed while stations work, the second takes its place, and
the stations find it by themselves.

    python3 tests/group/failover_test.py [--operations N] [--stations N] [--seed N]

With commits that wait for the second server nothing that a station was told is done may be lost. Without, the end
may be, and how much was is printed: never a hole in the middle of a chain.
"""
import argparse
import tempfile
import time
import unittest

import replicated
import workday

ARGUMENTS = argparse.Namespace()


class Failover(unittest.TestCase):
    def test_with_commits_that_wait_nothing_told_is_lost(self):
        self.assertEqual(self.lost_in(waits=True), 0)

    def test_without_only_the_end_may_be_lost(self):
        self.lost_in(waits=False)

    def lost_in(self, waits):
        with replicated.Pair(waits) as pair, tempfile.TemporaryDirectory() as folder:
            workday.make_office(pair.first)
            pair.follow()
            address = pair.address(workday.ROLE, workday.DATABASE)
            day = workday.Workday(folder, address, ARGUMENTS.stations, ARGUMENTS.operations, ARGUMENTS.seed)
            self.let_work(day, ARGUMENTS.stations * ARGUMENTS.operations // 3)
            if not waits:
                pair.hold_back()
                time.sleep(0.5)
            killed = pair.kill_first()
            time.sleep(1)
            pair.promote()
            day.wait(600)
            return self.look(day.lines(), workday.read_ledger(address, folder), killed, waits, address)

    def let_work(self, day, operations):
        for _ in range(3000):
            if sum(journal.read_bytes().count(b"\n") for journal in day.journals.values() if journal.exists()) >= operations:
                return
            time.sleep(0.1)
        self.fail("the stations do not get on")

    def look(self, lines, ledger, killed, waits, address):
        chains = workday.chains_of(ledger)
        journals = []
        for name, chain in chains.items():
            workday.check_order(name, chain)
            if name in lines:
                self.assertEqual(lines[name][-1].number, ARGUMENTS.operations)
                journals.append(workday.Journal(name, lines[name], chain, None if waits else killed + 500))
        workday.check_once(ledger)
        workday.station("verify", address)
        every = [line for one in lines.values() for line in one]
        lost = [line for journal in journals for line in journal.lost]
        back = min(line.at for line in every if line.at > killed + 1000 and line.outcome == "done")
        print(f"{'waiting' if waits else 'not waiting'} for the second server: {len(every)} lines told, {len(lost)} of them lost"
              + (f", the oldest told {killed - min(line.at for line in lost)} ms before the end" if lost else "")
              + f"; {sum(j.found for j in journals)} of which it could not be told were written, "
              f"{sum(j.unwritten for j in journals)} were not; first done again {back - killed} ms after the end", flush=True)
        return len(lost)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--operations", type=int, default=120)
    parser.add_argument("--stations", type=int, default=6)
    parser.add_argument("--seed", type=int, default=1)
    parser.parse_args(namespace=ARGUMENTS)
    unittest.main(argv=["failover_test"])


if __name__ == "__main__":
    main()
