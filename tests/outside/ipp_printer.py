"""Printers on loopback: a real IPP printer process of CUPS, and stubs that misbehave as a real one would not on
demand. Nothing waits without a bound."""

import http.server
import os
import pathlib
import socket
import struct
import subprocess
import tempfile
import threading
import time

SECONDS = 60


def free_port():
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return door.getsockname()[1]


def wait_until(holds, what, seconds=SECONDS):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = holds()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"not within {seconds} s: {what}")


class Ippeveprinter:
    """`with Ippeveprinter() as printer:`. It keeps what it prints in `printed`; while it is hindered by a keyword, a
    job waits, and the printer says so. `roll` is the size of the only labels it takes, in hundredths of a
    millimetre; without it, it takes office paper."""

    COMMAND = """#!/bin/sh
folder={folder}
if [ -s "$folder/hindrance" ]; then
  keyword=$(cat "$folder/hindrance")
  echo "STATE: +$keyword" >&2
  for i in $(seq 600); do [ -s "$folder/hindrance" ] || break; sleep 0.1; done
  echo "STATE: -$keyword" >&2
fi
cp "$1" "$folder/printed.$$.pdf"
"""

    ROLL = """ATTR enum printer-state 3
ATTR mimeMediaType document-format-supported "application/pdf"
ATTR mimeMediaType document-format-default "application/pdf"
ATTR keyword media-supported "oe_label"
ATTR keyword media-default "oe_label"
ATTR keyword media-ready "oe_label"
ATTR keyword media-col-supported "media-size"
ATTR collection media-size-supported {{MEMBER integer x-dimension {0} MEMBER integer y-dimension {1}}}
ATTR collection media-col-default {{MEMBER collection media-size {{MEMBER integer x-dimension {0} MEMBER integer y-dimension {1}}}}}
"""

    def __init__(self, roll=None):
        self.roll = roll

    def kind(self):
        """The options that say what it takes: a file of attributes, or a format."""
        if not self.roll:
            return "-f application/pdf"
        attributes = self.folder / "roll.conf"
        attributes.write_text(self.ROLL.format(*self.roll))
        return f"-a {attributes}"

    def __enter__(self):
        self.held = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.held.name)
        command = self.folder / "command.sh"
        command.write_text(self.COMMAND.format(folder=self.folder))
        command.chmod(0o755)
        (self.folder / "spool").mkdir()
        self.port = free_port()
        self.uri = f"ipp://localhost:{self.port}/ipp/print"
        # It announces itself over D-Bus and will not start without a bus; this one is its own.
        serve = ("DBUS_SYSTEM_BUS_ADDRESS=$DBUS_SESSION_BUS_ADDRESS exec ippeveprinter -n localhost "
                 f"-p {self.port} {self.kind()} -c {command} -d {self.folder}/spool -r off Labels")
        self.log = open(self.folder / "log", "wb")
        self.process = subprocess.Popen(["dbus-run-session", "--", "sh", "-c", serve], stdout=self.log,
                                        stderr=self.log, start_new_session=True,
                                        env=os.environ | {"PATH": os.environ["PATH"] + ":/usr/sbin"})
        wait_until(self.answers, "the printer answers")
        return self

    def __exit__(self, *_):
        self.hinder("")
        try:
            os.killpg(self.process.pid, 15)
        except ProcessLookupError:
            pass
        self.process.wait(timeout=SECONDS)
        self.log.close()
        self.held.cleanup()

    def answers(self):
        if self.process.poll() is not None:
            raise AssertionError((self.folder / "log").read_text(errors="replace"))
        with socket.socket() as door:
            return door.connect_ex(("127.0.0.1", self.port)) == 0

    def hinder(self, keyword):
        (self.folder / "hindrance").write_text(keyword)

    @property
    def printed(self):
        return [path.read_bytes() for path in sorted(self.folder.glob("printed.*.pdf"))]


class SilentPrinter:
    """Takes connections and never says a word."""

    def __enter__(self):
        self.door = socket.socket()
        self.door.bind(("127.0.0.1", 0))
        self.door.listen(16)
        self.uri = f"ipp://127.0.0.1:{self.door.getsockname()[1]}/ipp/print"
        return self

    def __exit__(self, *_):
        self.door.close()


def attribute(tag, name, value):
    return struct.pack(">BH", tag, len(name)) + name.encode() + struct.pack(">H", len(value)) + value


class StubPrinter:
    """Answers as IPP, from what stands in `job_status` and `reasons`; keeps what it took in `jobs`."""

    def __enter__(self):
        stub = self
        self.job_status, self.reasons, self.jobs, self.accepting = 0, ["none"], [], True

        class Handler(http.server.BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_POST(self):
                body = self.rfile.read(int(self.headers["Content-Length"]))
                answer = stub.answer(body)
                self.send_response(200)
                self.send_header("Content-Type", "application/ipp")
                self.send_header("Content-Length", str(len(answer)))
                self.end_headers()
                self.wfile.write(answer)

            def log_message(self, *_):
                pass

        self.server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.uri = f"ipp://127.0.0.1:{self.server.server_address[1]}/ipp/print"
        self.thread = threading.Thread(target=self.server.serve_forever, daemon=True)
        self.thread.start()
        return self

    def __exit__(self, *_):
        self.server.shutdown()
        self.server.server_close()
        self.thread.join(timeout=SECONDS)

    def answer(self, body):
        operation, number = struct.unpack(">HI", body[2:8])
        charset = b"\x01" + attribute(0x47, "attributes-charset", b"utf-8") + \
            attribute(0x48, "attributes-natural-language", b"en")
        status, group = 0, b""
        if operation == 0x000b:  # Get-Printer-Attributes
            group = b"\x04" + attribute(0x23, "printer-state", struct.pack(">i", 3)) + \
                attribute(0x22, "printer-is-accepting-jobs", bytes([self.accepting]))
            for i, reason in enumerate(self.reasons):
                group += attribute(0x44, "printer-state-reasons" if i == 0 else "", reason.encode())
        elif operation == 0x0002:  # Print-Job
            status = self.job_status
            if status == 0:
                self.jobs.append(body[body.index(b"%PDF"):])
                group = b"\x02" + attribute(0x21, "job-id", struct.pack(">i", len(self.jobs))) + \
                    attribute(0x23, "job-state", struct.pack(">i", 9))
        elif operation == 0x0009:  # Get-Job-Attributes
            group = b"\x02" + attribute(0x23, "job-state", struct.pack(">i", 9))
        return struct.pack(">BBHI", 1, 1, status, number) + charset + group + b"\x03"
