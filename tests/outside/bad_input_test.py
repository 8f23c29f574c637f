"""Bad input and a bad world: each told in words with what to do, by the contract, with nothing half-written."""

import ctypes
import itertools
import os
import random
import resource
import sqlite3
import subprocess
import zlib

import office
import picture
import scene

CAP_DAC_OVERRIDE, PR_CAPBSET_DROP = 1, 24  # linux/capability.h, linux/prctl.h
SEED = 20261125
PAYLOAD_CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.-$%*+/: "


def bound_by_permissions():
    """Lets a superuser's program meet permission bits like everybody's."""
    if os.geteuid() == 0:
        ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, 0, 0, 0)


def on_a_full_disk(size):
    """No file may grow beyond `size` bytes: writes fail as on a full disk (Python ignores SIGXFSZ)."""
    return {"restore_signals": False,
            "preexec_fn": lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))}


class Bad(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.made = office.filled_office(cls)
        cls.clear = cls.made.released()[1][0]
        cls.sheet = picture.pages_of(cls.made.folder.parent / "office-1.pdf", 150)[0]

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")

    def file(self, name, data):
        path = self.folder / name
        path.write_bytes(data)
        return path


class Pictures(Bad):
    def check_refused(self, path, errors):
        for verb, place in (("read", []), ("check", ["--office", self.office.folder])):
            reply = office.run(*place, *([verb, path] if verb == "read" else [verb, "--image", path]))
            self.assertEqual((reply.status, len(reply.lines)), (1, 1), reply.out)
            self.assertIn(reply.lines[0]["error"], errors)
            self.assertIn(path.name, reply.lines[0]["text"])
            self.check_worded(reply)

    def test_a_picture_cut_anywhere_is_no_picture(self):
        whole = self.sheet.save(self.folder / "whole.png").read_bytes()
        for size in (0, 1, 7, 8, 20, 33, 40, len(whole) // 2, len(whole) - 1):
            with self.subTest(size):
                self.check_refused(self.file("cut.png", whole[:size]), {"image-unreadable"})

    def test_random_bytes_are_no_picture(self):
        dice = random.Random(SEED)
        for start in (b"", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff\xe0", b"BM", b"II*\0", b"RIFF\0\0\0\0WEBP", b"P5\n"):
            with self.subTest(start):
                self.check_refused(self.file("noise.png", start + dice.randbytes(3000)),
                                   {"image-unreadable", "image-too-large"})

    def test_a_pdf_a_folder_and_nothing_are_no_pictures(self):
        self.check_refused(self.made.folder.parent / "office-1.pdf", {"image-unreadable"})
        self.check_refused(self.folder, {"file-unreadable", "image-unreadable"})
        self.check_refused(self.folder / "none.png", {"file-unreadable"})

    def test_a_picture_20000_pixels_wide_is_read_or_refused_in_words(self):
        wide = picture.Gray(20000, 400).paste(self.sheet, 12000, 40).save(self.folder / "wide.png")
        reply = office.run("read", wide)
        self.check_worded(reply)
        if reply.status == 0:
            self.assertEqual([line["text"] for line in reply.lines], [self.clear["payload"]])
        else:
            self.check_failure(reply, "image-too-large", 1)

    def test_a_picture_that_claims_to_be_vast_is_refused_at_once(self):
        vast = (b"\x89PNG\r\n\x1a\n" + picture.chunk(b"IHDR", picture.header(60000, 60000))
                + picture.chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + picture.chunk(b"IEND", b""))
        self.check_refused(self.file("vast.png", vast), {"image-too-large", "image-unreadable"})

    def test_of_several_files_the_readable_are_still_read(self):
        good = self.sheet.save(self.folder / "good.png")
        reply = office.run("read", self.file("bad.png", b"no"), good)
        self.assertEqual((reply.status, [line.get("error", line.get("text")) for line in reply.lines]),
                         (1, ["image-unreadable", self.clear["payload"]]))
        checked = self.office.run("check", "--image", self.folder / "bad.png", good)
        self.assertEqual((checked.status, checked.lines[-1]["package"]), (1, self.clear["package"]))

    def test_a_strangers_symbol_gives_a_terminal_one_line_and_no_orders(self):
        text, image = "a\x1b[31mred\nb", self.folder / "symbol.png"
        subprocess.run(["zint", "-b", "58", "--binary", "--scale=5", "--quietzones", "-o", image, "-i",
                        self.file("symbol.txt", text.encode())], check=True)
        self.assertEqual(office.run("read", image, json_wanted=False).out, b"a [31mred b\n")
        self.assertEqual([line["text"] for line in office.run("read", image).lines], [text])


class Payloads(Bad):
    def check_all_held(self, texts):
        """Through one scanner; a text with a line break or blank ends cannot arrive that way."""
        reply = self.office.run("check", "--wedge", input="\r\n".join(texts).encode() + b"\r\n")
        self.assertEqual(len(reply.lines), len(texts))
        self.assertNotIn("clear", {line["outcome"] for line in reply.lines})
        self.assertIn(reply.status, (10, 20))
        self.check_caught(reply)
        return reply.lines

    def test_one_character_changed_anywhere_is_never_clear(self):
        good, dice = self.clear["payload"], random.Random(SEED)
        changed = []
        for at, now in enumerate(good):
            others = [c for c in PAYLOAD_CHARACTERS if c != now and not (c == " " and at in (0, len(good) - 1))]
            changed += [good[:at] + c + good[at + 1:] for c in dice.sample(others, 3)]
        self.check_all_held(changed)
        self.check_all_held([good[:at] + good[at + 1:] for at in range(len(good))])
        self.check_all_held([good[:at] + good[at - 1] + good[at:] for at in range(1, len(good))])
        self.check_all_held([good.lower(), good + good, good[: len(good) // 2]])

    def test_each_change_alone_exits_10_or_20(self):
        good = self.clear["payload"]
        for at in range(0, len(good), 5):
            reply = self.office.run("check", "--text", scene.other_character(good, at))
            self.assertIn(reply.status, (10, 20))
            self.assertNotEqual(reply.lines[0]["outcome"], "clear")

    def test_a_label_of_another_office_is_not_ours(self):
        other = office.Office(self.folder / "other").fill()
        label = other.released()[1][0]
        reply = self.office.run("check", "--text", label["payload"])
        self.assertEqual((reply.status, office.codes(reply.lines[0])), (20, ["label-not-authentic"]))
        self.check_failure(self.office.run("withdraw", label["payload"], "--why", "torn"), "label-not-authentic", 20)

    def test_later_forms_empty_and_overlong_fields_are_held(self):
        good = self.clear["payload"]
        later = [good.replace("LL1.", form, 1) for form in ("LL2.", "LL14.", "LLC2.", "LLS3.", "LLO9.")]
        self.assertEqual({code for line in self.check_all_held(later) for code in office.codes(line)},
                         {"label-version-unknown"})
        fields = good.split(".")
        broken = [".".join(fields[:at] + [new] + fields[at + 1:]) for at in range(len(fields))
                  for new in ("", fields[at][:1], fields[at] + "9" * 30)]
        self.check_all_held([text for text in broken if text.strip()])
        self.check_all_held([".".join(fields[:at] + fields[at + 1:]) for at in range(len(fields))])

    def test_strange_lines_are_held_and_the_stream_goes_on(self):
        lines = [b"\xff\xfe\x00\x01", b"A" * 100000, "口腔鏡".encode(), b"\x1b[31m", self.clear["payload"].encode()]
        reply = self.office.run("check", "--wedge", input=b"\n".join(lines) + b"\n")
        self.assertEqual([line["outcome"] for line in reply.lines], ["hold"] * 4 + ["clear"])
        self.assertEqual(reply.status, 10)

    def test_arguments_that_are_no_text_are_told(self):
        reply = self.office.run("check", "--text", os.fsdecode(b"\xff\xfe"))
        self.assertEqual((reply.status, office.codes(reply.lines[0])), (10, ["not-a-package-label"]))
        reply = self.office.run("location", "add", "CAB9", "--name", os.fsdecode(b"\xff\xfe"))
        self.assertIn(reply.status, (2, 20))
        self.check_worded(reply)


class Files(Bad):
    def check_nothing_imported(self, data, error, *said):
        before = self.office.events()
        reply = self.office.run("contents", "import", self.file("rows.csv", data))
        self.check_failure(reply, error, 2)
        told = " ".join([reply.lines[0]["text"], *reply.lines[0].get("items", [])])
        for word in said:
            self.assertIn(word, told)
        self.assertEqual(self.office.events(), before)

    def test_one_bad_row_stops_the_file_and_is_named_by_its_line(self):
        self.check_nothing_imported(b"code,name\nA1,One\nlower,Two\nC3,Three\n", "bad-csv", "3", "lower")
        self.check_nothing_imported(b"code,name\nA1,One\nA1,Again\n", "bad-csv", "3", "A1")
        self.check_nothing_imported(b"code,name\nA1,One\nEXAM,Taken\n", "bad-csv", "3", "EXAM")
        self.check_nothing_imported(b"code,name,implant\nA1,One,maybe\n", "bad-csv", "2", "maybe")
        self.check_nothing_imported(b"code,name\nA1,\n", "bad-csv", "2", "name")

    def test_every_bad_row_is_told_at_once(self):
        before = self.office.run("contents", "import", self.file("x.csv", b"code,name\na,One\nB2,Two\nc,Three\nd,Four\n"))
        self.assertEqual(len(before.lines[0]["items"]), 3)

    def test_wrong_columns_are_told(self):
        self.check_nothing_imported(b"code,title\nA1,One\n", "bad-csv", "title")
        self.check_nothing_imported(b"name\nOne\n", "bad-csv", "code")
        self.check_nothing_imported(b"code,name,name\nA1,One,Two\n", "bad-csv", "name")
        self.check_nothing_imported(b"code,name\nA1,One,Two\n", "bad-csv", "2")
        self.check_nothing_imported(b"code,name\nA1\n", "bad-csv", "2")
        self.check_nothing_imported(b"code,name\nA1,\"One\n", "bad-csv", "2")
        self.check_nothing_imported(b"", "bad-csv")

    def test_wrong_encodings_are_told(self):
        text = "code,name\nA1,Zahnärztliche Spiegel\n"
        for encoding in ("latin-1", "utf-16", "utf-16-le"):
            with self.subTest(encoding):
                self.check_nothing_imported(text.encode(encoding), "bad-encoding")
        self.check_nothing_imported(b"code,name\nA1,One\0\n", "bad-encoding")
        self.office.ok("contents", "import", self.file("bom.csv", text.encode("utf-8-sig")))

    def test_a_code_too_long_for_a_label_is_refused(self):
        for table, code in (("operator", "ABCDE"), ("sterilizer", "S123"), ("contents", "A12345678"), ("kind", "ABCD")):
            with self.subTest(table):
                more = {"sterilizer": ["--removal", "gravity", "--type", "B"], "kind": ["--wrapping", "pouch"]}
                reply = self.office.run(table, "add", code, "--name", "x", *more.get(table, []))
                self.check_failure(reply, "bad-code", 2)


class World(Bad):
    def check_held(self, reason, **more):
        """A check in a bad world is a Hold that still names the package, whatever it is given."""
        for how in (("--text", self.clear["payload"]), ("--id", self.clear["package"]), ("--text", "LL2.X")):
            reply = self.office.run("check", *how, **more)
            self.assertEqual((reply.status, reply.lines[0]["outcome"]), (10, "hold"), reply.out)
            self.assertIn(reason, office.codes(reply.lines[0]))
            self.check_caught(reply)

    def check_told(self, error, **more):
        """Reading and writing verbs fail in words."""
        for verb in (["location", "list"], ["location", "add", "X1", "--name", "x"]):
            self.check_failure(self.office.run(*verb, **more), error, 1)

    def contents(self):
        return {path.name: path.read_bytes() for path in self.office.folder.iterdir()}

    def test_no_folder_and_a_folder_that_is_no_office(self):
        for folder in (self.folder / "none", self.folder / "empty", self.file("file", b"x")):
            with self.subTest(folder.name):
                if folder.name == "empty":
                    folder.mkdir()
                self.office.folder = folder
                self.check_held("record-unreachable")
                self.check_told("office-absent")
                self.assertEqual([] if not folder.is_dir() else list(folder.iterdir()), [])

    def test_a_record_cut_short_or_overwritten_holds(self):
        whole = (self.office.folder / "record.db").read_bytes()
        for error, data in (("record-damaged", whole[:len(whole) // 2]), ("record-damaged", whole[:4096]),
                            ("office-unreadable", b"x" * 9000), (None, whole[:-5000] + b"\x55" * 5000)):
            with self.subTest(error=error, size=len(data)):
                (self.office.folder / "record.db").write_bytes(data)
                reply = self.office.run("check", "--id", self.clear["package"])
                self.check_caught(reply)
                verify = self.office.run("ledger", "verify")
                self.check_worded(verify)
                if error is None:  # its last pages only: what they held is found by looking for it
                    self.assertIn(verify.status, (1, 20))
                    continue
                self.assertEqual((reply.status, reply.lines[0]["outcome"]), (10, "hold"))
                self.assertEqual(verify.status, 1)
                self.check_told(error)

    def test_an_empty_record_holds(self):
        (self.office.folder / "record.db").write_bytes(b"")
        reply = self.office.run("check", "--id", self.clear["package"])
        self.assertEqual((reply.status, reply.lines[0]["outcome"]), (10, "hold"))
        self.check_worded(self.office.run("location", "list"))

    def test_a_record_of_a_newer_program_is_left_alone(self):
        record = sqlite3.connect(self.office.folder / "record.db")
        record.execute("PRAGMA user_version = 999")
        record.close()
        before = self.contents()
        self.check_held("record-unreachable")
        self.check_told("office-newer")
        self.assertEqual(self.contents()["record.db"], before["record.db"])

    def test_keys_missing_or_garbage(self):
        """R42"""
        keys = self.office.folder / "keys.json"
        good = keys.read_text()
        for bad in (None, "", "{}", "garbage", good[:-20], good.replace('"id": 1', '"id": 7')):
            with self.subTest(bad):
                keys.unlink() if bad is None else keys.write_text(bad)
                self.check_held("record-unreachable")
                self.check_told("keys-unreadable")
                keys.write_text(good)
        self.assertEqual(self.office.run("check", "--text", self.clear["payload"]).status, 0)

    def test_a_read_only_office_holds_and_refuses(self):
        """R42"""
        load = self.office.open_load()
        before = self.contents()
        for path in (*self.office.folder.iterdir(), self.office.folder):
            path.chmod(0o500)
        try:
            limits = {"preexec_fn": bound_by_permissions}
            self.check_held("record-unreachable", **limits)
            self.check_told("office-read-only", **limits)
            out = self.folder / "x.pdf"
            reply = self.office.run("label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed",
                                    "--out", out, **limits)
            self.check_failure(reply, "office-read-only", 1)
            self.assertFalse(out.exists())
        finally:
            self.office.folder.chmod(0o700)
        self.assertEqual(self.contents(), before)

    def test_a_full_disk_holds_and_loses_nothing(self):
        """R42"""
        load = self.office.open_load()
        before = self.office.events()
        full = on_a_full_disk(0)
        self.check_held("record-unreachable", **full)
        for verb in (["location", "add", "X1", "--name", "x"], ["load", "add", load, "--unwrapped", "EXAM"],
                     ["label", "--contents", "EXAM", "--load", load, "--kind", "P", "--packed", "--out", self.folder / "x.pdf"]):
            with self.subTest(verb):
                reply = self.office.run(*verb, **full)
                self.assertEqual(reply.status, 1)
                self.assertIn(reply.lines[0]["error"], ("disk-full", "office-unreadable", "file-unwritable"))
                self.check_worded(reply)
        self.assertFalse((self.folder / "x.pdf").exists())
        self.assertEqual(self.office.events(), before)
        self.assertEqual(self.office.ok("ledger", "verify"), [])
        self.assertEqual(self.office.run("check", "--text", self.clear["payload"]).status, 0)

    def test_a_disk_that_fills_at_any_byte_leaves_the_record_whole(self):
        before = len(self.office.events())
        size = (self.office.folder / "record.db").stat().st_size
        ended = set()
        for limit in (1, 512, 4096, 4200, 8272, 20000, 33000, 50000, size - 1, size + 4096):
            with self.subTest(limit):
                copy = self.office.copied_to(self.folder / f"full-{limit}")
                load = copy.open_load()
                out = self.folder / f"{limit}.pdf"
                reply = copy.run("label", "--contents", "EXAM", "--count", "3", "--load", load, "--kind", "P", "--packed",
                                 "--out", out, **on_a_full_disk(limit))
                self.check_worded(reply)
                self.assertIn(reply.status, (0, 1))
                self.assertEqual(copy.ok("ledger", "verify"), [])
                ended.add(reply.status)
                packages = len(copy.ok("load", "show", load)[0]["packages"])
                self.assertEqual((packages, len(copy.events()) - before), (3, 2) if reply.status == 0 else (0, 1))
        self.assertEqual(ended, {0, 1})

    def test_an_office_that_could_not_be_made_leaves_nothing(self):
        for limit in (0, 4096, 30000):
            with self.subTest(limit):
                made = office.Office(self.folder / f"new-{limit}")
                reply = made.run("init", **on_a_full_disk(limit))
                self.assertEqual(reply.status, 1)
                self.check_worded(reply)
                self.assertFalse(made.folder.exists())
        reply = office.Office(self.folder / "zone").run("init", "--zone", "Nowhere/Town")
        self.check_failure(reply, "zone-unknown", 1)
        self.assertFalse((self.folder / "zone").exists())

    def test_words_that_are_gone_are_told_without_words(self):
        reply = self.office.run("location", "list", env={"LOADLIGHT_TEMPLATES": str(self.folder / "none")})
        self.check_caught(reply)

    def test_an_office_that_is_gone_holds_every_label_of_a_picture(self):
        sheet = self.sheet.save(self.folder / "sheet.png")
        reply = office.run("--office", self.folder / "none", "check", "--image", sheet)
        self.assertEqual((reply.status, [(line["package"], line["outcome"]) for line in reply.lines]),
                         (10, [(self.clear["package"], "hold")]))

    def test_an_output_that_is_full_is_no_success(self):
        image = self.sheet.save(self.folder / "sheet.png")
        verbs = (["ledger", "export"], ["check", "--id", self.clear["package"]], ["operator", "list"], ["read", image])
        for verb, form in itertools.product(verbs, ([], ["--json"])):
            with self.subTest(verb + form), open("/dev/full", "wb") as full:
                done = subprocess.run([office.PROGRAM, "--office", self.office.folder, *verb, *form], stdout=full,
                                      stderr=subprocess.PIPE, timeout=office.SECONDS, env=office.surroundings())
                self.assertEqual((done.returncode, b"standard output" in done.stderr), (1, True), done.stderr)

    def test_a_stream_ends_when_nobody_takes_its_answers(self):
        scanner = subprocess.Popen([office.PROGRAM, "--office", self.office.folder, "check", "--wedge", "--json"],
                                   stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                                   env=office.surroundings())
        self.addCleanup(scanner.kill)
        scanner.stdout.close()
        scanner.stdin.write(self.clear["payload"].encode() + b"\n")
        scanner.stdin.flush()
        self.assertEqual(scanner.wait(timeout=office.SECONDS), 1)
        scanner.stdin.close()


class Numbers(Bad):
    def test_numbers_that_cannot_be_are_refused(self):
        package, (load, _) = self.clear["package"], self.office.running()
        self.office.ok("load", "finish", load)
        open_load = self.office.open_load()
        card = ["label", "tray-card", "--load", open_load, "--contents", "EXAM", "--out", self.folder / "x.pdf"]
        many = ",".join(["1-99999"] * 500)
        before = self.office.events()
        for arguments in (["check", "--wedge", "--for", "1e300"], ["check", "--wedge", "--for", "nan"],
                          ["check", "--wedge", "--for", "-1"], [*card, "--count", "-4"], [*card, "--count", "0"],
                          ["load", "readings", load, "--low", "nan", "--high", "1", "--minutes", "1", "--pressure", "1"],
                          ["load", "readings", load, *office.READINGS[:-1], "-1"],
                          ["load", "open", "--sterilizer", "S1", "--program", office.PROGRAM_OF_LOADS, "--number", "9" * 12],
                          ["load", "add", open_load, "--unwrapped", "EXAM:0"],
                          ["load", "add", open_load, "--unwrapped", "EXAM:-1"],
                          ["load", "add", open_load, "--unwrapped", "EXAM:1000"],
                          ["load", "indicator", load, *office.INDICATOR[:3], "7", *office.INDICATOR[4:]],
                          ["label", "test-page", "--nudge", "1e308,0", "--out", self.folder / "x.pdf"],
                          ["label", "reprint", package, "--cells", many, "--out", self.folder / "x.pdf"],
                          ["label", "reprint", package, "--cells", "3-1", "--out", self.folder / "x.pdf"]):
            with self.subTest([str(word)[:20] for word in arguments]):
                reply = self.office.run(*arguments)
                self.assertEqual((reply.status, len(reply.lines)), (2, 1), reply.out[:300])
                self.assertIn(reply.lines[0]["error"], ("bad-value", "wrong-usage"))
                self.check_worded(reply)
        self.assertFalse((self.folder / "x.pdf").exists())
        self.assertEqual(self.office.events(), before)

    def test_a_tray_card_names_a_sterilizer_of_the_office(self):
        reply = self.office.run("label", "tray-card", "--load", "S9-1", "--contents", "EXAM", "--out", self.folder / "x.pdf")
        self.check_failure(reply, "code-unknown", 20)


if __name__ == "__main__":
    office.main()
