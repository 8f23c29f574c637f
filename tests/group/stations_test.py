"""Eight stations at one office: all on the same loads and packages, so that they meet. Whatever a station was told is
done stands in the ledger once, nothing else does, and no package is opened and no load started twice.

    python3 tests/group/stations_test.py [--operations N] [--stations N] [--seed N] [--server-log FILE]

Each station does so many operations, refused ones included; its repeats are counted beside. The server's fsync is
off: what a power cut does to it is not asked here.
"""
import argparse
import collections
import shutil
import tempfile
import unittest

import workday

ARGUMENTS = argparse.Namespace()


class Stations(unittest.TestCase):
    def test_stations_at_one_office_lose_and_double_nothing(self):
        settings = {"log_min_messages": "error", "log_min_error_statement": "error", "log_lock_waits": "on"}
        with workday.postgres.Server(**settings) as server, tempfile.TemporaryDirectory() as folder:
            address = workday.make_office(server)
            day = workday.Workday(folder, address, ARGUMENTS.stations, ARGUMENTS.operations, ARGUMENTS.seed)
            seconds = day.wait(1500)
            lines = day.lines()
            ledger = workday.read_ledger(address, folder)
            self.tell(lines, ledger, seconds)
            if ARGUMENTS.server_log:
                shutil.copy(server.folder / "log", ARGUMENTS.server_log)
            self.look(lines, ledger)
            workday.station("verify", address)

    def look(self, lines, ledger):
        chains = workday.chains_of(ledger)
        self.assertEqual(set(chains), set(lines) | {"FOUNDER"})
        for name, chain in chains.items():
            workday.check_order(name, chain)
            if name in lines:
                self.assertEqual(lines[name][-1].number, ARGUMENTS.operations)
                self.assertEqual(workday.Journal(name, lines[name], chain).found, 0)
        workday.check_once(ledger)
        self.assertGreater(workday.check_numbers(ledger), 0)

    def tell(self, lines, ledger, seconds):
        every = [line for one in lines.values() for line in one]
        done = [line for line in every if line.outcome == "done"]
        print(f"{len(every)} operations in {seconds:.0f} s: {len(every) / seconds:.0f} a second, {len(done)} done, "
              f"{len(every) - len(done)} refused; {sum(line.repeated for line in every)} repeats after another station's "
              f"change; {len(ledger)} entries", flush=True)
        for operation, count in sorted(collections.Counter(line.operation for line in every).items()):
            of_it = [line for line in every if line.operation == operation]
            refused = collections.Counter(line.outcome for line in of_it if line.outcome != "done")
            print(f"  {operation}: {count}, repeated {sum(line.repeated for line in of_it)}, refused {dict(refused)}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--operations", type=int, default=10_000)
    parser.add_argument("--stations", type=int, default=8)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--server-log")
    parser.parse_args(namespace=ARGUMENTS)
    unittest.main(argv=["stations_test"])


if __name__ == "__main__":
    main()
