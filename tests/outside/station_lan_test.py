"""The station served to the office's other devices: its authority, TLS, and what only a PIN may do."""

import http.client
import os
import pathlib
import re
import socket
import ssl
import subprocess
import tempfile
import unittest
import urllib.parse

import office
import station


class SecureBrowser(station.Browser):
    """Knows the office's authority and nobody else's."""

    def __init__(self, served, context):
        super().__init__(served)
        self.context = context

    def ask(self, method, path, body=None, headers=None, timeout=60):
        connection = http.client.HTTPSConnection("127.0.0.1", self.station.port, timeout=timeout, context=self.context)
        sent = {"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())} if self.cookies else {}
        connection.request(method, path, body=body, headers=sent | (headers or {}))
        answer = station.Answer(connection.getresponse())
        connection.close()
        for cookie in answer.cookies:
            name, value = cookie.split(";")[0].split("=", 1)
            self.cookies[name] = value
        return answer


def trusting(authority, least=ssl.TLSVersion.TLSv1_2, most=ssl.TLSVersion.TLSv1_3):
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.load_verify_locations(cadata=authority)
    context.minimum_version, context.maximum_version = least, most
    return context


class Lan(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.office = office.Office(cls.folder.name + "/office").fill("--name", "Corner office")
        cls.pin = cls.office.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        cls.station = station.Station(cls.office.folder, arguments=("--lan",))
        cls.authority = (cls.office.folder / "authority.pem").read_text()

    @classmethod
    def tearDownClass(cls):
        cls.station.stop()
        cls.folder.cleanup()

    def browser(self, **more):
        return SecureBrowser(self.station, trusting(self.authority, **more))

    def test_its_address_is_an_https_one(self):
        parts = urllib.parse.urlsplit(self.station.url)
        self.assertEqual("https", parts.scheme)
        self.assertRegex(parts.hostname, r"^\d+\.\d+\.\d+\.\d+$")

    def test_tls_1_2_and_1_3_are_taken(self):
        for version in (ssl.TLSVersion.TLSv1_2, ssl.TLSVersion.TLSv1_3):
            with self.subTest(version):
                self.assertEqual(200, self.browser(least=version, most=version).get("/").status)

    def test_older_tls_is_refused(self):
        context = trusting(self.authority)
        context.set_ciphers("ALL:@SECLEVEL=0")
        context.minimum_version, context.maximum_version = ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1
        with self.assertRaises((ssl.SSLError, ConnectionError)):
            SecureBrowser(self.station, context).get("/")

    def test_whoever_does_not_know_the_authority_is_warned(self):
        with self.assertRaises(ssl.SSLCertVerificationError):
            SecureBrowser(self.station, ssl.create_default_context()).get("/")

    def test_plain_http_gets_no_answer(self):
        with socket.create_connection(("127.0.0.1", self.station.port), timeout=30) as plain:
            plain.sendall(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            self.assertNotIn(b"200 OK", plain.recv(4096))
        self.assertEqual(200, self.browser().get("/").status)

    def test_a_sign_in_sets_a_cookie_for_https_alone(self):
        browser = self.browser()
        answer = browser.sign_in("MB", self.pin)
        self.assertTrue(answer.cookies)
        for cookie in answer.cookies:
            self.assertIn("Secure", cookie)
            self.assertIn("HttpOnly", cookie)
            self.assertIn("SameSite=Strict", cookie)
        self.assertEqual(200, browser.get("/set-up/tables/operator").status)

    def test_checking_needs_no_sign_in_and_set_up_a_pin(self):
        browser = self.browser()
        self.assertEqual(200, browser.get("/check").status)
        self.assertEqual(303, browser.get("/set-up").status)
        answer = browser.post("/set-up/tables/kind/add", {"code": "X"}.items())
        self.assertEqual("sign-in-needed", answer.json["error"])

    def test_the_page_for_tablets_tells_what_to_install(self):
        browser = self.browser()
        text = browser.page("/set-up/tablets")
        given = browser.get("/authority.crt")
        self.assertEqual("application/x-x509-ca-cert", given.headers["content-type"])
        self.assertEqual(self.authority, given.text)
        shown = re.search(r'class="fingerprint"[^>]*>([0-9A-F ]+)<', text).group(1)
        self.assertEqual([4] * 16, [len(group) for group in shown.split()])
        known = subprocess.run(["openssl", "x509", "-noout", "-fingerprint", "-sha256"], input=given.body,
                               capture_output=True, check=True).stdout.decode()
        self.assertEqual(known.split("=")[1].strip().replace(":", ""), shown.replace(" ", ""))
        self.assertTrue(browser.get("/set-up/tablets/address.svg").text.startswith("<svg"))
        self.assertIn(self.station.url + "TABLETS", text)
        self.assertEqual(200, browser.get("/TABLETS").status)

    def test_what_is_kept_is_its_owner_s_alone(self):
        for name in ("authority-key.pem", "station-key.pem"):
            self.assertEqual(0o600, os.stat(self.office.folder / name).st_mode & 0o777)

    def test_openssl_finds_the_chain_whole(self):
        authority, own = self.office.folder / "authority.pem", self.office.folder / "station.pem"
        for more in ([], ["-purpose", "sslserver", "-verify_ip", "127.0.0.1"], ["-verify_hostname", "localhost"]):
            done = subprocess.run(["openssl", "verify", "-x509_strict", *more, "-CAfile", authority, own],
                                  capture_output=True)
            self.assertEqual(0, done.returncode, done.stderr + done.stdout)

    def test_a_first_run_is_not_for_other_machines_nor_without_an_office(self):
        empty = pathlib.Path(self.folder.name) / "none"
        reply = office.run("--office", empty, "serve", "--port", "0", "--lan")
        self.assertEqual((1, "office-absent"), (reply.status, reply.lines[0]["error"]))
        self.assertFalse(empty.exists())


class Kept(unittest.TestCase):
    """What a second start finds."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.office = office.Office(self.folder.name + "/office").fill()

    def serve(self, at=None):
        station.Station(self.office.folder, at=at, arguments=("--lan",)).stop()
        return {name: (self.office.folder / name).read_text() for name in ("authority.pem", "station.pem")}

    def refused(self):
        reply = self.office.run("serve", "--port", "0", "--lan")
        self.assertEqual((1, "certificates-unusable"), (reply.status, reply.lines[0]["error"]))

    def test_a_second_start_changes_nothing(self):
        self.assertEqual(self.serve(), self.serve())

    def test_the_station_s_is_made_anew_in_its_last_month(self):
        first = self.serve(at="2026-11-01 12:00:00")
        self.assertEqual(first, self.serve(at="2027-09-20 12:00:00"))
        late = self.serve(at="2027-10-10 12:00:00")
        self.assertEqual(first["authority.pem"], late["authority.pem"])
        self.assertNotEqual(first["station.pem"], late["station.pem"])

    def test_files_that_cannot_be_used_are_told_and_left(self):
        self.serve()
        kept = {path: path.read_text() for path in self.office.folder.glob("*.pem")}
        self.assertEqual(4, len(kept))
        for path in kept:
            with self.subTest(path.name):
                path.write_text("nonsense")
                self.refused()
                self.assertEqual("nonsense", path.read_text())
                path.unlink()
                if path.name != "station.pem":  # without it there is nothing of the station's to be kept
                    self.refused()
                for each, text in kept.items():
                    each.write_text(text)
        self.serve()


if __name__ == "__main__":
    office.main()
