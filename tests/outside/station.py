"""The station served on an office's folder, and a browser's part in it without a browser: cookies, tokens and
forms. What a page looks like and what its scripts do is tested in a real one (tests/browser)."""

import html
import http.client
import json
import re
import subprocess
import urllib.parse

import office

class Answer:
    """What came back. `text` for pages, `json` for scripts."""

    def __init__(self, response):
        self.status = response.status
        self.headers = {name.lower(): value for name, value in response.getheaders()}
        self.cookies = response.msg.get_all("Set-Cookie") or []
        self.body = response.read()

    @property
    def text(self):
        return self.body.decode("utf-8")

    @property
    def json(self):
        return json.loads(self.body)


class Station:
    """`with Station(folder) as station:` serves until the block ends. `at` turns the clock."""

    def __init__(self, folder, at=None, arguments=()):
        command = [office.PROGRAM, "--office", str(folder), "serve", "--port", "0", "--json", *arguments]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                        env=office.surroundings(at))
        line = self.process.stdout.readline()
        if not line:
            raise AssertionError(self.process.stderr.read().decode())
        self.url = json.loads(line)["listening"]
        self.port = urllib.parse.urlsplit(self.url).port

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.stop()

    def stop(self):
        if self.process.poll() is None:
            self.process.terminate()
        self.process.wait(timeout=20)
        self.process.stdout.close()
        self.process.stderr.close()
        return self.process.returncode

    def browser(self):
        return Browser(self)


class Browser:
    """Keeps its cookies; posts forms as the page before gave them out."""

    def __init__(self, station):
        self.station = station
        self.cookies = {}

    def ask(self, method, path, body=None, headers=None, timeout=60):
        connection = http.client.HTTPConnection("127.0.0.1", self.station.port, timeout=timeout)
        sent = {"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())} if self.cookies else {}
        connection.request(method, path, body=body, headers=sent | (headers or {}))
        answer = Answer(connection.getresponse())
        connection.close()
        for cookie in answer.cookies:
            name, value = cookie.split(";")[0].split("=", 1)
            self.cookies[name] = value
        return answer

    def get(self, path, **more):
        return self.ask("GET", path, **more)

    def page(self, path):
        """The text of a page that must be there."""
        answer = self.get(path)
        if answer.status != 200:
            raise AssertionError(f"{path}: {answer.status} {answer.text[:2000]}")
        return answer.text

    def form(self, page, action):
        """The hidden fields of the form on `page` (a path or a page's text) that goes to `action`."""
        text = page if page.lstrip().startswith("<") else self.page(page)
        for form in re.findall(r"<form\b.*?</form>", text, re.DOTALL):
            if re.search(rf'action="{re.escape(action)}"', form):
                fields = {}
                for tag in re.findall(r"<input\b[^>]*>", form):
                    at = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
                    if at.get("type") == "hidden":
                        fields[at["name"]] = html.unescape(at.get("value", ""))
                return fields
        raise AssertionError(f"no form that goes to {action}")

    def send(self, page, action, fields=(), as_script=True):
        """Posts the form of `page` that goes to `action`; `fields` is a dict or a list of pairs."""
        pairs = list(self.form(page, action).items()) + list(fields.items() if isinstance(fields, dict) else fields)
        return self.post(action, pairs, as_script)

    def post(self, action, pairs, as_script=True):
        headers = {"Content-Type": "application/x-www-form-urlencoded"}
        if as_script:
            headers["Accept"] = "application/json"
        return self.ask("POST", action, urllib.parse.urlencode(list(pairs)).encode(), headers)

    def sign_in(self, code, pin):
        answer = self.send("/sign-in", "/sign-in", {"operator": code, "pin": pin})
        if answer.status != 200:
            raise AssertionError(answer.text)
        return answer
