"""Plays a row of reasons.csv or releases.csv: an office, a load brought to a stage, and what followed.

Steps are separated by ";". One is a stage (STAGES, cumulative) and, if not EXAM, the contents. The others
are the program's own verbs, with these words replaced:
  LOAD, PACKAGE, OTHER   the load and its two packages
  EYES, INDICATOR, PDF   all three answers yes; a passed external indicator; a file to write
  READ, SEEN             (alone) readings that pass; that indicator recorded
A stage begins with the day's air removal test, unless it stands after "untested"; "sheet pass" and "sheet
fail" are such a test alone.
Before a verb, "MB" lets the lead act and "fails" expects an exit status other than 0. "@time" turns the
clock; "sql ..." alters the record behind the program's back.
"""

import base64
import contextlib
import datetime
import hashlib
import hmac
import json
import shlex
import sqlite3

import office
import picture

STAGES = ("printed", "added", "running", "finished", "evident", "released")
CROCKFORD = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
RFC_4648 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
AUTHENTICATOR = 13


def later(at, minutes):
    return str(datetime.datetime.fromisoformat(at) + datetime.timedelta(minutes=minutes))


def other_character(text, at):
    return text[:at] + ("7" if text[at] != "7" else "3") + text[at + 1:]


class Scene:
    def __init__(self, made, steps, started, template="roll-57x32"):
        self.office, self.started, self.template = made, started, template
        self.load, self.packages, self.office.at = "", [], started
        for step in steps.split(";"):
            self.do(step.strip())

    def reach(self, stage, contents="EXAM", tested=True):
        self.office.at = self.started
        if tested:
            self.office.test_of_the_day()
        self.load = self.office.open_load()
        self.labels = self.office.labels(self.load, 2, contents, None, "--template", self.template)
        self.packages = [label["package"] for label in self.labels]
        reached = STAGES.index(stage)
        steps = ((0, "load add LOAD PACKAGE OTHER"), (0, "load start LOAD"), (60, "load finish LOAD"),
                 (60, "READ"), (60, "SEEN"), (70, "load release LOAD"))
        for minutes, step in steps[:(0, 1, 2, 3, 5, 6)[reached]]:
            self.office.at = later(self.started, minutes)
            self.do(step)

    def do(self, step):
        if set(step.split()) & set(STAGES):
            words = step.split()
            tested = words[0] != "untested"
            self.reach(*words[not tested:], tested=tested)
        elif step.startswith("sheet "):
            self.office.test_air_removal(step[6:])
        elif step.startswith("@"):
            self.office.at = step[1:]
        elif step.startswith("sql "):
            self.alter(step[4:])
        else:
            self.run(step)

    def run(self, step):
        step = {"READ": "load readings LOAD READINGS", "SEEN": "load indicator LOAD INDICATOR"}.get(step, step)
        words = shlex.split(step)
        fails = words[0] == "fails"
        words = words[fails:]
        who = "MB" if words[0] == "MB" else "JT"
        reply = self.office.run(*self.replaced(words[who == "MB":]), operator=who, json_wanted=False)
        if (reply.status != 0) != fails:
            raise AssertionError(f"{step}: exit {reply.status}: {reply.out!r} {reply.err}")

    def replaced(self, words):
        known = {"LOAD": [self.load], "PACKAGE": self.packages[:1], "OTHER": self.packages[1:], "EYES": office.EYES,
                 "INDICATOR": office.INDICATOR, "READINGS": office.READINGS, "PDF": [self.office.pdf()]}
        return [each for word in words for each in known.get(word, [word])]

    def alter(self, sql):
        with contextlib.closing(sqlite3.connect(self.office.folder / "record.db")) as record, record:
            record.execute(sql)

    # How the package is shown to `check`.

    def see(self, seen):
        return self.office.run("check", *getattr(self, seen.replace("-", "_"))())

    @property
    def payload(self):
        return self.labels[0]["payload"]

    def label(self):
        return "--text", self.payload

    def id(self):
        return "--id", self.packages[0]

    def other_text(self):
        return "--text", "HTTPS://EXAMPLE.ORG"

    def id_slip(self):
        return "--id", other_character(self.packages[0], 4)

    def later_form(self):
        return "--text", self.payload.replace("LL1.", "LL2.", 1)

    def later_chart_copy(self):
        return "--text", self.payload.replace("LL1.", "LLC2.", 1)

    def printed_pages(self, dpi):
        return picture.pages_of(self.office.folder.parent / f"{self.office.folder.name}-1.pdf", dpi)

    def chart_copy(self):
        page = self.printed_pages(200)[0].save(self.office.pdf().with_suffix(".png"))
        read = office.run("read", page).lines
        return "--text", next(line["text"] for line in read if line["text"].startswith("LLC1."))

    def chart_copy_unsigned(self):
        return "--text", self.payload.replace("LL1.", "LLC1.", 1)

    def authenticator_slip(self):
        return "--text", other_character(self.payload, len(self.payload) - 1)

    def key(self):
        return bytes.fromhex(json.loads((self.office.folder / "keys.json").read_text())["keys"][-1]["key"])

    def signed(self, signed_part, key=None):
        """HMAC-SHA-256 (RFC 2104), its first 65 bits in Crockford's alphabet: the design's authenticator."""
        mac = hmac.new(key or self.key(), signed_part.encode(), hashlib.sha256).digest()
        letters = base64.b32encode(mac).decode().translate(str.maketrans(RFC_4648, CROCKFORD))
        return "--text", signed_part + letters[:AUTHENTICATOR]

    def unsigned(self):
        return self.payload[:-AUTHENTICATOR]

    def signed_elsewhere(self):
        return self.signed(self.unsigned(), key=bytes(range(32)))

    def signed_other_contents(self):
        return self.signed(self.unsigned().replace(".PEXAM.", ".PTIPS."))

    def signed_other_use_by(self):
        return self.signed(self.unsigned().replace(".14D20270904.", ".14D20280904."))

    def never_issued_id(self):
        """A label printed in a copy of this office: the same keys, a record that never heard of it."""
        copy = self.office.copied_to(self.office.folder.with_name(self.office.folder.name + "-copy"))
        copy.at = later(self.started, 80)
        self.never_issued_label = copy.labels(copy.open_load(), 1)[0]
        return "--id", self.never_issued_label["package"]

    def never_issued(self):
        self.never_issued_id()
        return "--text", self.never_issued_label["payload"]

    def labels_in_one_picture(self, millimetres):
        """The second label lies that far to the left of the first, on the same line."""
        first, second = self.printed_pages(150)
        scene = picture.Gray(first.width * 2 + 200, first.height + 80).paste(first, first.width + 100, 40)
        scene.paste(second, first.width + 100 - round(millimetres / 25.4 * 150), 40)
        return "--image", scene.save(self.office.pdf().with_suffix(".png"))

    def picture_over(self):  # covers the first label's text, not its symbol
        return self.labels_in_one_picture(28)

    def picture_beside(self):
        return self.labels_in_one_picture(60)

    def blank_picture(self):
        return "--image", picture.Gray(400, 300).save(self.office.pdf().with_suffix(".png"))

    def no_folder(self):
        self.office.folder.rename(self.office.folder.with_name("elsewhere"))
        return self.label()

    def cut_record(self):
        record = self.office.folder / "record.db"
        record.write_bytes(record.read_bytes()[:record.stat().st_size // 2])
        return self.label()
