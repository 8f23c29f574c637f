"""Requests that mean harm: each is refused or borne, and the station goes on answering."""

import datetime
import html
import json
import re
import socket
import struct
import tempfile
import threading
import time
import unittest
import urllib.parse
import zlib

import office
import picture
import station

HTML = "<img src=x onerror=alert(1)>\"'&"
MEGABYTE = 1 << 20


def resident(process):
    """Bytes of memory that a process holds (VmRSS)."""
    with open(f"/proc/{process.pid}/status", encoding="ascii") as status:
        return int(re.search(r"VmRSS:\s*(\d+)", status.read())[1]) * 1024


class Attacks(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory(prefix="loadlight-attacks-")
        cls.addClassCleanup(cls.folder.cleanup)
        cls.office = office.Office(cls.folder.name + "/office")
        cls.cases = {line["case"]: line for line in cls.office.ok("init", "--demo", operator=None)}
        people = cls.office.ok("operator", "list", operator=None)
        cls.lead = next(row["code"] for row in people if row["role"] == "lead")
        cls.other = next(row["code"] for row in people if row["role"] != "lead")
        cls.pin = cls.office.ok("operator", "pin", cls.lead, operator=cls.lead)[0]["pin"]
        cls.station = station.Station(cls.office.folder)
        cls.addClassCleanup(cls.station.stop)

    def setUp(self):
        self.browser = self.station.browser()

    def tearDown(self):
        """Whatever was done to it, the station answers as before."""
        card = self.check(self.station.browser(), "clear")
        self.assertEqual("clear", card["outcome"])

    def check(self, browser, case):
        return browser.send("/check", "/check/text", {"text": self.cases[case]["payload"]}).json["cards"][0]

    def frame(self, data, browser=None):
        browser = browser or self.browser
        token = re.search(r'data-token="([^"]+)"', browser.page("/check"))[1]
        return browser.ask("POST", "/check/frame?camera=a", data,
                           {"X-Loadlight-Token": token, "Content-Type": "image/jpeg", "Accept": "application/json"})

    def raw(self, data, seconds=20):
        """What comes back on a connection of its own until it is closed or silent for a second."""
        with socket.create_connection(("127.0.0.1", self.station.port), timeout=seconds) as connection:
            try:
                connection.sendall(data)
            except (BrokenPipeError, ConnectionResetError):
                pass
            return self.all_of(connection)

    @staticmethod
    def all_of(connection):
        got = b""
        try:
            while piece := connection.recv(65536):
                got += piece
                connection.settimeout(1)
        except (TimeoutError, ConnectionResetError):
            pass
        return got

    def head(self, line="POST /check/text", *more):
        return "\r\n".join((f"{line} HTTP/1.1", f"Host: 127.0.0.1:{self.station.port}", *more, "", "")).encode()


class Bodies(Attacks):
    def test_a_body_that_says_it_is_too_large_is_refused_before_it_comes(self):
        for size in (300 << 10, 1 << 40, (1 << 63) - 1):
            answer = self.raw(self.head("POST /check/text", f"Content-Length: {size}") + b"text=x")
            self.assertTrue(answer == b"" or b" 413 " in answer.split(b"\r\n")[0], answer[:100])

    def test_a_body_too_large_is_refused_and_leaves_no_memory_taken(self):
        answer = self.browser.ask("POST", "/check/text", b"text=" + b"x" * (300 << 10),
                                  {"Content-Type": "application/x-www-form-urlencoded", "Accept": "application/json"})
        self.assertEqual((413, "body-too-large"), (answer.status, answer.json["error"]))
        before = resident(self.station.process)
        for _ in range(5):
            self.assertIn(self.chunked(40 * MEGABYTE), (413, None))
        self.assertLess(resident(self.station.process) - before, 30 * MEGABYTE)

    def chunked(self, size):
        """The status after sending a body of unsaid length; None when the line was cut."""
        token = re.search(r'data-token="([^"]+)"', self.browser.page("/check"))[1]
        cookie = "loadlight-browser=" + self.browser.cookies["loadlight-browser"]
        with socket.create_connection(("127.0.0.1", self.station.port), timeout=20) as connection:
            try:
                connection.sendall(self.head("POST /check/frame", "Transfer-Encoding: chunked", f"Cookie: {cookie}",
                                             f"X-Loadlight-Token: {token}"))
                piece = b"10000\r\n" + b"x" * 65536 + b"\r\n"
                for _ in range(size // 65536):
                    connection.sendall(piece)
                connection.sendall(b"0\r\n\r\n")
            except (BrokenPipeError, ConnectionResetError):
                pass
            answer = self.all_of(connection)
        return int(answer.split()[1]) if answer else None

    def test_a_body_that_drips_is_cut_off(self):
        """A byte a second never falls silent, and yet ends once its time is over."""
        begun = time.monotonic()
        with socket.create_connection(("127.0.0.1", self.station.port), timeout=20) as connection:
            connection.sendall(self.head("POST /check/text", "Content-Length: 4000",
                                         "Content-Type: application/x-www-form-urlencoded"))
            try:
                while time.monotonic() - begun < 50:
                    connection.sendall(b"x")
                    time.sleep(1)
            except (BrokenPipeError, ConnectionResetError):
                pass
        self.assertLess(time.monotonic() - begun, 45)

    def test_what_is_no_form_is_refused_in_words(self):
        forms = ("application/x-www-form-urlencoded", (b"text=%FF", b"text=\xc3(", b"&".join([b"a=1"] * 2000)))
        others = ("application/json", (b"{", b'{"text": "LL1"}', b"[" * 100000))
        for kind, bodies in (forms, others, ("", (b"text=x",)), ("multipart/form-data; boundary=x", (b"--x",))):
            for body in bodies:
                with self.subTest(kind, body=body[:20]):
                    answer = self.browser.ask("POST", "/check/text", body, {"Content-Type": kind, "Accept": "application/json"})
                    self.assertEqual((400, "request-unreadable"), (answer.status, answer.json["error"]))
                    self.assertTrue(answer.json["text"] and answer.json["action"])

    def test_a_picture_that_claims_to_be_huge_is_not_unpacked(self):
        jpeg = (b"\xff\xd8\xff\xc0" + struct.pack(">HBHHB", 11, 8, 60000, 60000, 1) + b"\x01\x11\x00"
                + b"\xff\xda" + struct.pack(">HB", 8, 1) + b"\x01\x00\x00\x3f\x00" + bytes(200) + b"\xff\xd9")
        packed = zlib.compressobj(9)
        rows = b"".join(packed.compress(bytes(30001)) for _ in range(30000)) + packed.flush()
        png = (b"\x89PNG\r\n\x1a\n" + picture.chunk(b"IHDR", picture.header(30000, 30000))
               + picture.chunk(b"IDAT", rows) + picture.chunk(b"IEND", b""))
        before = resident(self.station.process)
        for data in (jpeg, png, b"", b"\xff\xd8", b"no picture"):
            with self.subTest(data[:12]):
                begun = time.monotonic()
                answer = self.frame(data)
                self.assertGreaterEqual(answer.status, 400)
                self.assertIn("error", answer.json)
                self.assertLess(time.monotonic() - begun, 20)
        self.assertLess(resident(self.station.process) - before, 100 * MEGABYTE)


class Heads(Attacks):
    def test_twenty_thousand_headers_are_refused(self):
        for line in ("X-{}: y", "X: {}", "Cookie: a{}=b"):
            answer = self.raw(self.head("GET /check", *(line.format(i) for i in range(20000))))
            self.assertTrue(answer == b"" or answer.split()[1] in (b"400", b"413", b"431"), answer[:100])
        for long in ("Cookie: " + "x" * (1 << 20), "X-Loadlight-Token: " + "x" * (1 << 20)):
            answer = self.raw(self.head("GET /check", long))
            self.assertTrue(answer == b"" or answer.split()[1] in (b"400", b"413", b"431"), answer[:100])
        answer = self.raw(self.head("GET /" + "x" * (1 << 20)))
        self.assertTrue(answer == b"" or answer.split()[1] in (b"400", b"414", b"431"), answer[:100])

    def test_unknown_methods_are_refused(self):
        for method in ("PUT", "DELETE", "OPTIONS", "TRACE", "PATCH", "CONNECT", "FOO", "get"):
            answer = self.raw(self.head(f"{method} /check"))
            self.assertTrue(answer == b"" or answer.split()[1] in (b"400", b"404", b"405", b"501"), answer[:100])
        answer = self.raw(self.head("HEAD /check", "Connection: close"))
        self.assertIn(b" 200 ", answer.split(b"\r\n")[0] + b" ")
        self.assertTrue(answer.endswith(b"\r\n\r\n"), "a body after HEAD")

    def test_requests_sent_at_once_are_answered_in_their_order(self):
        paths = ["/check", "/static/check.js", "/nothing", "/static/station.css"] * 5
        answer = self.raw(b"".join(self.head(f"GET {path}") for path in paths[:-1])
                          + self.head(f"GET {paths[-1]}", "Connection: close"))
        statuses = re.findall(rb"HTTP/1\.1 (\d+) ", answer)
        self.assertEqual([b"404" if path == "/nothing" else b"200" for path in paths], statuses)

    def test_a_request_hidden_behind_another_s_body_is_not_answered(self):
        """Two lengths that differ, or a length beside chunks: no proxy and we may read them differently."""
        hidden = self.head("GET /static/tones.js")
        answer = self.raw(self.head("POST /check/text", "Content-Length: 3", "Transfer-Encoding: chunked",
                                    "Connection: close") + b"0\r\n\r\n" + hidden)
        self.assertLessEqual(answer.count(b"HTTP/1.1 200"), 0, answer[:200])

    def test_only_our_own_host_and_origin_are_answered(self):
        port = self.station.port
        for host in ("elsewhere.example", f"elsewhere.example:{port}", "", "[::1]", f"127.0.0.1.elsewhere.example:{port}",
                     f"localhost.:{port}", "127.0.0.1@elsewhere.example"):
            with self.subTest(host=host):
                self.assertNotEqual(200, self.browser.get("/check", headers={"Host": host}).status)
        for origin in ("null", "http://elsewhere.example", f"http://127.0.0.1:{port + 1}", f"https://127.0.0.1:{port}",
                       f"http://127.0.0.1:{port}.elsewhere.example"):
            with self.subTest(origin=origin):
                pairs = self.browser.form("/check", "/check/text") | {"text": self.cases["clear"]["payload"]}
                answer = self.browser.ask("POST", "/check/text", urllib.parse.urlencode(pairs).encode(),
                                          {"Content-Type": "application/x-www-form-urlencoded", "Origin": origin})
                self.assertEqual(409, answer.status)
        self.assertTrue(self.raw(b"GET /check HTTP/1.0\r\n\r\n").split()[1:2] != [b"200"])

    def test_nothing_outside_the_served_tree_is_given_out(self):
        inside = (self.office.folder / "keys.json").read_bytes()[:40]
        for way in ("..", "%2e%2e", "%2E%2E", "..%2f", "..%5c", "....//", "%252e%252e", "..%c0%af", "..%00"):
            for path in (f"/static/{way}/{way}/words/en.json", f"/static/{way}/{way}/{way}/{way}{self.office.folder}/keys.json",
                         f"/{way}/keys.json", f"/static/{way}"):
                with self.subTest(path):
                    answer = self.raw(self.head(f"GET {path}", "Connection: close"))
                    self.assertTrue(answer == b"" or answer.split()[1] in (b"400", b"404"), answer[:100])
                    self.assertNotIn(inside, answer)
        for name in ("%00.js", "check.js/", "/check.js", "CHECK.JS", "."):
            self.assertIn(self.browser.get("/static/" + name).status, (400, 404), name)

    def test_nobody_is_led_elsewhere(self):
        for back in ("//elsewhere.example", "https://elsewhere.example", "/\\elsewhere.example", "javascript:alert(1)",
                     "/%0d%0aSet-Cookie:%20a=b"):
            with self.subTest(back):
                answer = self.browser.get("/language?to=en&back=" + urllib.parse.quote(back))
                self.assertEqual("/", answer.headers["location"])
                page = self.browser.page("/sign-in?back=" + urllib.parse.quote(back))
                self.assertEqual({"/"}, set(re.findall(r'name="back" value="([^"]*)"', page)))


class Sessions(Attacks):
    def is_in(self, browser):
        return 'class="who nobody"' not in browser.page("/check")

    def test_a_form_sent_twice_does_its_work_once(self):
        pairs = (self.browser.form("/check", "/check/text") | {"text": self.cases["clear"]["payload"]}).items()
        before = len(self.office.events())
        answers = []
        threads = [threading.Thread(target=lambda: answers.append(self.browser.post("/check/text", pairs))) for _ in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual({200}, {answer.status for answer in answers})
        self.assertEqual(1, len({answer.body for answer in answers}))
        self.assertEqual(before + 1, len(self.office.events()))

    def test_a_name_from_before_or_of_anybody_s_making_is_worth_nothing(self):
        self.browser.page("/")
        old = dict(self.browser.cookies)
        self.browser.sign_in(self.lead, self.pin)
        self.assertTrue(self.is_in(self.browser))
        for cookies in (old, {"loadlight-browser": "a" * 26}, {"loadlight-browser": ""}, {}):
            stranger = self.station.browser()
            stranger.cookies = dict(cookies)
            self.assertFalse(self.is_in(stranger))
        self.browser.send("/sign-in", "/sign-out")
        self.assertFalse(self.is_in(self.browser))

    def test_a_restart_ends_every_session_and_every_form(self):
        other = station.Station(self.office.folder)
        browser = other.browser()
        browser.sign_in(self.lead, self.pin)
        pairs = (browser.form("/check", "/check/text") | {"text": self.cases["clear"]["payload"]}).items()
        cookies = browser.cookies
        other.stop()
        again = station.Station(self.office.folder)
        self.addCleanup(again.stop)
        browser = again.browser()
        browser.cookies = cookies
        self.assertEqual("form-stale", browser.post("/check/text", pairs).json["error"])
        self.assertFalse(self.is_in(browser))

    def test_the_session_of_an_operator_who_was_retired_ends(self):
        """With the last day of work: the station's clock is a day ahead of the command's."""
        made = office.Office(self.folder.name + "/retiring")
        made.ok("init", "--demo", operator=None)
        pin = made.ok("operator", "pin", self.other, operator=self.lead)[0]["pin"]
        tomorrow = datetime.datetime.now(datetime.timezone.utc) + datetime.timedelta(days=1)
        with station.Station(made.folder, at=f"{tomorrow:%Y-%m-%d %H:%M:%S}") as other:
            browser = other.browser()
            browser.sign_in(self.other, pin)
            self.assertTrue(self.is_in(browser))
            made.ok("operator", "retire", self.other, operator=self.lead)
            self.assertFalse(self.is_in(browser))
            answer = browser.send("/sign-in", "/sign-in", {"operator": self.other, "pin": pin})
            self.assertEqual(409, answer.status)


class Markup(Attacks):
    """Every form that links lead to is filled with markup; what comes back, then and later, never holds it."""

    FORM = re.compile(r"<form\b[^>]*action=\"([^\"]*)\"[^>]*>(.*?)</form>", re.DOTALL)
    FIELD = re.compile(r"<(input|textarea|select|button)\b([^>]*)>(.*?)(?=<(?:input|textarea|select|button)\b|$)", re.DOTALL)

    def pages(self, browser, most=80):
        waiting, kinds, found = ["/"], set(), {}
        while waiting and len(found) < most:
            path = waiting.pop(0)
            kind = re.sub(r"[^/]*[0-9A-Z][^/]*", "{}", path.split("?")[0])
            if kind in kinds or path.startswith(("/static/", "/language", "/live")):
                continue
            kinds.add(kind)
            answer = browser.get(path)
            if answer.status != 200 or not answer.headers["content-type"].startswith("text/html"):
                continue
            found[path] = answer.text
            waiting += [html.unescape(link) for link in re.findall(r'href="(/[^"#]*)"', answer.text)]
        return found

    def filled(self, form):
        pairs = []
        for tag, head, rest in self.FIELD.findall(form):
            at = dict(re.findall(r'([\w-]+)="([^"]*)"', head))
            if "name" not in at:
                continue
            value = HTML
            if at.get("type") in ("hidden", "radio", "checkbox") or tag == "button":
                value = html.unescape(at.get("value", ""))
            if tag == "select":
                value = (re.findall(r'<option\b[^>]*value="([^"]+)"', rest) or [""])[0]
            pairs.append((at["name"], value))
        return pairs

    def test_markup_in_any_field_comes_back_as_text(self):
        made = office.Office(self.folder.name + "/markup")
        made.ok("init", "--demo", operator=None)
        for table in ("contents", "location"):
            made.ok(table, "add", "XSS", "--name", HTML, operator=self.lead)
        made.ok("operator", "add", "XSS", "--name", HTML, "--first-day", "2001-01-02", operator=self.lead)
        pin = made.ok("operator", "pin", self.lead, operator=self.lead)[0]["pin"]
        with station.Station(made.folder) as other:
            browser = other.browser()
            browser.sign_in(self.lead, pin)
            for path, text in self.pages(browser).items():
                self.assertNotIn("<img src=x", text, path)
                for action, form in self.FORM.findall(text):
                    if action in ("/sign-out", "/sign-in/switch"):
                        continue
                    with self.subTest(path, action=action):
                        answer = browser.post(action, self.filled(form), as_script=False)
                        if answer.headers.get("content-type", "").startswith("text/html"):
                            self.assertNotIn("<img src=x", answer.text)
                        for card in json.loads(answer.text).get("cards", []) if answer.headers.get(
                                "content-type") == "application/json" else []:
                            self.assertNotIn("<img src=x", card["html"])
            for path, text in self.pages(browser).items():
                self.assertNotIn("<img src=x", text, path)


if __name__ == "__main__":
    office.main()
