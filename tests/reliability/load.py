"""Fifty clients check, print and release at one station at once, beside some that never finish their requests.

    LOADLIGHT=build/bin/loadlight python3 tests/reliability/load.py [--long] [--minutes M] [--pause S] [--seed N]
                                                                     [--figures FILE]

The short form runs for some seconds, the long one for ten minutes. Every client asks anew as soon as it was
answered and `pause` seconds have gone by. Afterwards every acknowledged act must stand in the ledger exactly
once and nothing else beside it, and the ledger must be whole. Times and memory are printed; the long form also
fails when the slowest hundredth of the checks took half a second or more.
"""
import argparse
import collections
import http.client
import pathlib
import random
import re
import socket
import sys
import tempfile
import threading
import time
import traceback

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "outside"))
import office  # noqa: E402
import station  # noqa: E402

import figures  # noqa: E402

CHECKERS, PRINTERS, LOADERS, DRIPPERS = 40, 6, 4, 8
RUNS_A_LOAD = 20  # of four labels each: no chamber holds more
LONGEST_CHECK = 0.5  # seconds, of the slowest hundredth
SECONDS = {"short": 8, "long": 600}
TYPED = {"low": "132.6", "high": "134.1", "minutes": "4.5", "pressure": "293", "drying": "22"}
INDICATOR = {"place": "external", "type": "1", "lot": "CI-0417", "expires": "2099-12-31", "result": "pass"}


class Client(station.Browser):
    """A browser whose connection stays open."""

    def __init__(self, served):
        super().__init__(served)
        self.connection = None

    def ask(self, method, path, body=None, headers=None, timeout=60):
        if not self.connection:
            self.connection = http.client.HTTPConnection("127.0.0.1", self.station.port, timeout=timeout)
        sent = {"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())} if self.cookies else {}
        self.connection.request(method, path, body=body, headers=sent | (headers or {}))
        answer = station.Answer(self.connection.getresponse())
        if answer.headers.get("connection", "").lower() == "close":
            self.connection.close()
            self.connection = None
        for cookie in answer.cookies:
            name, value = cookie.split(";")[0].split("=", 1)
            self.cookies[name] = value
        return answer

    def done(self, action, fields, page):
        answer = self.post(action, list((self.form(page, action) | fields).items()))
        if answer.status != 200:
            raise AssertionError(f"{action}: {answer.status} {answer.text}")
        return answer.json


class Crowd:
    """Everybody at one station, what they were told, and how long it took."""

    def __init__(self, made, served, pins, labels, seconds, pause):
        self.office, self.station, self.pins, self.labels = made, served, pins, labels
        self.pause, self.end = pause, time.monotonic() + seconds
        self.lock = threading.Lock()
        self.told = collections.Counter()
        self.packages, self.released, self.times, self.faults = [], [], [], []

    def goes_on(self):
        time.sleep(self.pause)
        return time.monotonic() < self.end and not self.faults

    def watched(self, work, number):
        try:
            work(number)
        except Exception:
            self.faults.append(traceback.format_exc())

    def signed_in(self, code="JT"):
        client = Client(self.station)
        client.sign_in(code, self.pins[code])
        return client

    def check(self, number):
        client, dice = Client(self.station), random.Random(number)
        form, asked = client.form("/check", "/check/text"), 0
        while self.goes_on():
            label, asked = dice.choice(self.labels), asked + 1
            fields = list((form | {"text": label["payload"], "once": f"{number}-{asked}"}).items())
            begun = time.monotonic()
            answer = client.post("/check/text", fields)
            took = time.monotonic() - begun
            outcome = answer.json["cards"][0]["outcome"] if answer.status == 200 else answer.text
            if outcome != "clear":
                raise AssertionError(f"a check of a package that is clear: {answer.status} {outcome}")
            if asked % 10 == 0:  # the same form a second time is the same check
                client.post("/check/text", fields)
            with self.lock:
                self.told["package-checked"] += 1
                self.times.append(took)

    def print_labels(self, number):
        client, runs, load = self.signed_in(), 0, None
        while self.goes_on():
            page, runs = client.page("/pack"), runs + 1
            if runs % RUNS_A_LOAD == 1:
                load = re.findall(r'name="load" value="(S1-\d+)"', page)[-1]
            order = {"contents": "EXAM", "kind": "P", "count": "4", "load": load, "packed": "yes"}
            fields = list((client.form(page, "/pack/print") | order).items())
            answers = [client.post("/pack/print", fields) for _ in range(2)]  # a button touched twice
            if {answer.status for answer in answers} != {200} or answers[0].json["go"] != answers[1].json["go"]:
                raise AssertionError([(answer.status, answer.text) for answer in answers])
            made = re.findall(r'name="package" value="([0-9A-Z]{10})"', client.page(answers[0].json["go"]))
            with self.lock:
                self.told["labels-printed"] += 1
                self.packages += made

    def release(self, number):
        """One sterilizer each, so that nobody waits for another's load to end."""
        client, sterilizer = self.signed_in(), f"G{number + 1}"
        while self.goes_on():
            opening = {"sterilizer": sterilizer, "program": "gravity-121-wrapped", "purpose": "process"}
            go = client.done("/loads/open", opening, "/loads")["go"]
            load = re.match(r"/loads/([^?]+)", go)[1]
            order = {"contents": "EXAM", "kind": "P", "count": "2", "load": load, "packed": "yes"}
            run = client.send("/pack", "/pack/print", order).json["go"]
            made = re.findall(r'name="package" value="([0-9A-Z]{10})"', client.page(run))
            place = f"/loads/{load}"
            for package in made:
                client.done(f"{place}/add", {"text": package}, place)
            client.done(f"{place}/start", {"count": "2"}, place)
            client.done(f"{place}/finish", {"counter": ""}, place)
            client.done(f"{place}/readings", TYPED | {"low": "121.6", "high": "122.4", "minutes": "31",
                                                      "pressure": "207", "drying": "31"}, place)
            client.done(f"{place}/indicator", INDICATOR, place)
            client.done(f"{place}/release", {}, place)
            with self.lock:
                self.told.update({"labels-printed": 1, "packages-added": 2, "load-started": 1, "load-released": 1})
                self.packages += made
                self.released.append(load)

    def drip(self, number):
        """A letter now and then of a request that never ends."""
        begun = [b"GET /check HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: ",
                 b"POST /check/text HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100000\r\n\r\n"][number % 2]
        while self.goes_on():
            with socket.create_connection(("127.0.0.1", self.station.port), timeout=5) as connection:
                connection.sendall(begun)
                try:
                    while self.goes_on():
                        connection.sendall(b"x")
                        time.sleep(0.5)
                except OSError:
                    continue  # the station let go of it

    def run(self):
        kinds = [(self.check, CHECKERS), (self.print_labels, PRINTERS), (self.release, LOADERS), (self.drip, DRIPPERS)]
        threads = [threading.Thread(target=self.watched, args=(work, number))
                   for work, count in kinds for number in range(count)]
        sizes = []
        for thread in threads:
            thread.start()
        while any(thread.is_alive() for thread in threads):
            sizes.append(resident(self.station.process.pid))
            time.sleep(1)
        return sizes


def resident(pid):
    with open(f"/proc/{pid}/status", encoding="ascii") as status:
        return int(re.search(r"VmRSS:\s*(\d+)", status.read())[1])


def percentile(values, share):
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(len(ordered) * share))]


def made_office(folder):
    made = office.Office(folder / "office").fill()
    for number in range(LOADERS):
        made.run("sterilizer", "add", f"G{number + 1}", "--name", f"Side unit {number + 1}", "--removal", "gravity",
                 "--type", "B", operator="MB")
    _, labels = made.released(20)
    pins = {"JT": made.ok("operator", "pin", "JT", operator="MB")[0]["pin"]}
    return made, labels, pins


def differences(made, crowd, before):
    """What the ledger holds since then, against what the clients were told."""
    events = made.events()[before:]
    kinds = collections.Counter(event["kind"] for event in events)
    wrong = [f"{kind}: told {count}, in the ledger {kinds[kind]}" for kind, count in crowd.told.items()
             if kinds[kind] != count]
    released = collections.Counter(event["subject"] for event in events if event["kind"] == "load-released")
    if released != collections.Counter(crowd.released):
        wrong.append(f"released by the ledger and not by what was told, or twice: {released - collections.Counter(crowd.released)}")
    twice = [package for package, count in collections.Counter(crowd.packages).items() if count > 1]
    if twice:
        wrong.append(f"package ids given out twice: {twice}")
    shown = sum(len(made.ok("load", "show", load)[0]["packages"]) for load in crowd.released[:20])
    if shown != 2 * len(crowd.released[:20]):
        wrong.append(f"{shown} packages in {len(crowd.released[:20])} loads of two")
    altered = made.run("ledger", "verify", operator=None)
    if altered.status != 0:
        wrong.append(f"ledger verify: {altered.lines}")
    return wrong


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--long", action="store_true")
    arguments.add_argument("--minutes", type=float)
    arguments.add_argument("--pause", type=float, default=0.0)
    arguments.add_argument("--seed", type=int)
    arguments.add_argument("--figures")
    options = arguments.parse_args()
    seconds = options.minutes * 60 if options.minutes else SECONDS["long" if options.long else "short"]
    with tempfile.TemporaryDirectory(prefix="loadlight-load-") as folder:
        made, labels, pins = made_office(pathlib.Path(folder))
        before = len(made.events())
        with station.Station(made.folder) as served:
            crowd = Crowd(made, served, pins, labels, seconds, options.pause)
            sizes = crowd.run()
        for fault in crowd.faults[:3]:
            print(fault, file=sys.stderr)
        wrong = differences(made, crowd, before)
    for line in wrong:
        print(line, file=sys.stderr)
    slowest = percentile(crowd.times, 0.99) if crowd.times else float("inf")
    early = max(sizes[:max(1, len(sizes) // 5)])
    figures.tell(options.figures, "load", [
        ("clients at once, and clients that never finish", f"{CHECKERS + PRINTERS + LOADERS} and {DRIPPERS}"),
        ("seconds", round(seconds)),
        ("checks, prints, releases answered", f"{crowd.told['package-checked']}, {crowd.told['labels-printed']}, "
                                              f"{len(crowd.released)}"),
        ("events lost or doubled", len(wrong)),
        ("a check: median, slowest hundredth, slowest (ms)",
         f"{percentile(crowd.times, 0.5) * 1000:.0f}, {slowest * 1000:.0f}, {max(crowd.times) * 1000:.0f}"),
        ("memory: most in the first fifth, most of all (MB)", f"{early / 1024:.0f}, {max(sizes) / 1024:.0f}")])
    return 1 if wrong or crowd.faults or (options.long and slowest >= LONGEST_CHECK) else 0


if __name__ == "__main__":
    sys.exit(main())
