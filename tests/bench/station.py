#!/usr/bin/env python3
"""The chairside loop from frame to verdict, beside a bare loop that only uploads and answers; and the server's
memory after many requests. Prints figures and judges nothing.

    python3 tests/bench/station.py --build build [--packages build/tests/browser/packages] [--frames 200]
                                   [--requests 100000]

Rows "browser" are measured within Debian's Chromium, its camera showing a clip of 1280 x 720: from the moment the
page takes a picture off its camera to the moment the answer is there. They need node and the packages that the
tests of tests/browser install. Rows "http" send one JPEG of that page over and over, without a browser.
"""

import argparse
import json
import os
import pathlib
import re
import statistics
import subprocess
import sys
import tempfile
import threading
import time

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "outside"))
CAMERAS = (1, 4)


def percentile(values, share):
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(len(ordered) * share))]


def row(name, cameras, values):
    print(f"{name:<34} {cameras} camera{'s' if cameras > 1 else ' '}  median {statistics.median(values):7.1f} ms   "
          f"95th percentile {percentile(values, 0.95):7.1f} ms   {len(values)} frames", flush=True)


def at_once(count, work):
    """Runs work(i) in `count` threads; everything they gave, together."""
    given, threads = [], []
    for i in range(count):
        threads.append(threading.Thread(target=lambda i=i: given.extend(work(i))))
        threads[-1].start()
    for thread in threads:
        thread.join()
    return given


def browser_rows(station_url, payload, frames, packages, jpeg):
    """Leaves one picture, as the page sent it, in the file `jpeg`."""
    command = ["node", str(HERE / "chairside_loop.mjs"), station_url, payload, str(frames), str(jpeg)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=1200,
                          env=os.environ | {"BROWSER_PACKAGES": str(packages)})
    for line in done.stdout.splitlines():
        measured = json.loads(line)
        row(measured["name"], measured["cameras"], measured["milliseconds"])
    if done.returncode != 0:
        sys.exit("the browser's loop failed: " + done.stderr)


class Camera:
    """One connection that stays open, as a browser's does."""

    def __init__(self, served, name):
        import http.client
        browser = served.browser()
        token = re.search(r'data-token="([^"]+)"', browser.page("/check"))[1]
        cookie = "; ".join(f"{k}={v}" for k, v in browser.cookies.items())
        self.connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=60)
        self.path = f"/check/frame?camera={name}"
        self.headers = {"X-Loadlight-Token": token, "Cookie": cookie, "Accept": "application/json"}
        self.bare = self.headers | {"X-Loadlight-Token": "none"}  # read and refused at once

    def time_of(self, jpeg, headers, wanted):
        begun = time.perf_counter()
        self.connection.request("POST", self.path, jpeg, headers)
        answer = self.connection.getresponse()
        body = answer.read()
        if answer.status != wanted:
            raise AssertionError(f"{answer.status}: {body[:200]}")
        return (time.perf_counter() - begun) * 1000

    def loop(self, jpeg, frames, bare):
        headers, wanted = (self.bare, 409) if bare else (self.headers, 200)
        return [self.time_of(jpeg, headers, wanted) for _ in range(frames + 10)][10:]


def http_rows(served, jpeg, frames):
    for cameras in CAMERAS:
        for name, bare in (("http: verdict", False), ("http: bare upload and answer", True)):
            row(name, cameras, at_once(cameras, lambda i: Camera(served, f"bench{i}").loop(jpeg, frames, bare)))


def resident(pid):
    with open(f"/proc/{pid}/status", encoding="ascii") as status:
        return int(re.search(r"VmRSS:\s*(\d+)", status.read())[1])


def memory_rows(served, jpeg, case, requests):
    """Of ten requests five are pages, two checks of a text, two static files, one a frame. Every hundredth is of a
    browser that comes anew."""
    import http.client
    import urllib.parse
    first, done = max(1, requests // 10), 0
    sizes = []

    def some(count):
        camera, browser = Camera(served, "memory"), served.browser()
        form = browser.form("/check", "/check/text")
        cookie = "; ".join(f"{k}={v}" for k, v in browser.cookies.items())
        connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=60)
        typed = {"Content-Type": "application/x-www-form-urlencoded", "Accept": "application/json", "Cookie": cookie}
        for i in range(count):
            if i % 10 == 9:
                camera.time_of(jpeg, camera.headers, 200)
                continue
            if i % 10 in (3, 6):
                fields = urllib.parse.urlencode(form | {"text": case["payload"], "once": f"bench-{count}-{i}"})
                connection.request("POST", "/check/text", fields, typed)
            else:
                path = ("/", "/check", "/static/station.css", "/", "/check", "/sign-in", "/", "/static/check.js", "/")[i % 10]
                connection.request("GET", path, headers={} if i % 100 == 0 else {"Cookie": cookie})
            answer = connection.getresponse()
            answer.read()
            if answer.status >= 400:
                raise AssertionError(answer.status)
        return []

    for upto in range(first, requests + 1, first):
        share = (upto - done) // 4
        at_once(4, lambda i: some(share))
        done = upto
        sizes.append(resident(served.process.pid))
        print(f"memory after {upto:>6} requests: {sizes[-1]} kB", flush=True)
    print(f"ratio of the last to the first: {sizes[-1] / sizes[0]:.2f}")


def main():
    parse = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parse.add_argument("--build", required=True, type=pathlib.Path)
    parse.add_argument("--packages", type=pathlib.Path)
    parse.add_argument("--frames", type=int, default=200)
    parse.add_argument("--requests", type=int, default=100000)
    wanted = parse.parse_args()
    build = wanted.build.resolve()
    os.environ["LOADLIGHT"] = str(build / "bin" / "loadlight")
    import office
    import station
    with tempfile.TemporaryDirectory(prefix="loadlight-bench-") as folder:
        made = office.Office(folder + "/office")
        cases = {line["case"]: line for line in made.ok("init", "--demo", operator=None)}
        frame = pathlib.Path(folder) / "frame.jpg"
        with station.Station(made.folder) as served:
            packages = wanted.packages or build / "tests" / "browser" / "packages"
            browser_rows(served.url, cases["clear"]["payload"], wanted.frames, packages, frame)
            jpeg = frame.read_bytes()
            print(f"the frame sent by http: {len(jpeg)} bytes, as the browser sent it")
            http_rows(served, jpeg, wanted.frames)
        with station.Station(made.folder) as served:
            memory_rows(served, jpeg, cases["clear"], wanted.requests)


if __name__ == "__main__":
    main()
