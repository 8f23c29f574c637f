"""Reading films and bursts of shots: every label once, and whatever is no film told in words."""

import os
import pathlib
import signal
import struct
import subprocess
import zlib

import picture
import video

import office

DPI = 150  # three pixels a module and more
SHELF_FILM = os.environ.get("SHELF_FILM", "")


def turned(mp4):
    """The same film taken upright: its track's matrix turns it clockwise (ISO/IEC 14496-12, 8.3.2)."""
    upright, clockwise = struct.pack(">4i", 1 << 16, 0, 0, 0), struct.pack(">5i", 0, 1 << 16, 0, -(1 << 16), 0)
    at = mp4.index(upright, mp4.index(b"tkhd"))
    return mp4[:at] + clockwise + mp4[at + len(clockwise):]


class Reading(office.Case):
    @classmethod
    def setUpClass(cls):
        made = office.filled_office(cls)
        load = made.open_load()
        out = made.pdf()
        cls.texts = [label["payload"] for label in made.labels(load, 3, "EXAM", out)]
        cls.sheet = out
        cls.pages = picture.pages_of(out, DPI)
        cls.scene = video.row_of(cls.pages)
        cls.view_width = (cls.pages[0].width + 2 * video.GAP) // 4 * 4
        folder = made.folder.parent
        cls.film = video.save(folder / "film.avi", video.views_along(cls.scene, cls.view_width))
        cls.whole = office.run("read", "--video", cls.film)

    def file(self, name, data):
        path = self.folder / name
        path.write_bytes(data)
        return path

    def check_refused(self, path, *errors):
        with self.subTest(path):
            reply = office.run("read", "--video", path)
            self.assertIn([line.get("error") for line in reply.lines], [[error] for error in errors])
            self.assertEqual(reply.status, 1)
            self.assertIn(str(path), reply.lines[0]["text"])
            self.check_worded(reply)


class Films(Reading):
    def test_each_label_comes_once_with_the_frame_it_was_read_in(self):
        self.assertEqual((self.whole.status, self.whole.err), (0, ""))
        self.assertEqual([line["text"] for line in self.whole.lines], self.texts)
        frames = [line["frame"] for line in self.whole.lines]
        self.assertEqual((frames, frames[0]), (sorted(frames), 1))
        for line in self.whole.lines:
            self.assertEqual((set(line), line["file"], len(line["corners"])),
                             ({"file", "text", "corners", "frame"}, str(self.film), 4))

    def test_a_reader_who_is_no_script_gets_the_texts_alone(self):
        reply = office.run("read", "--video", self.film, json_wanted=False)
        self.assertEqual(reply.out.decode().split(), self.texts)

    def test_a_film_without_a_label_is_read_to_its_end_and_says_nothing(self):
        bare = video.save(self.folder / "bare.avi", [picture.Gray(320, 240)] * 12)
        reply = office.run("read", "--video", bare)
        self.assertEqual((reply.status, reply.out, reply.err), (0, b"", ""))

    def test_a_film_that_was_cut_off_keeps_what_it_shows_and_says_so(self):
        size, frame = self.film.stat().st_size, self.view_width * self.scene.height + 8
        for share in (0.2, 0.45, 0.7, 0.95):  # in the middle of a frame, as chance will have it
            with self.subTest(share):
                reply = office.run("read", "--video", video.cut(self.film, share, self.folder / "cut.avi"))
                self.assertEqual((reply.status, reply.lines[-1].get("error")), (1, "video-cut-off"))
                kept = int(size * share) // frame - 2
                shown = [line["text"] for line in self.whole.lines if line["frame"] <= kept]
                read = [line.get("text") for line in reply.lines[:-1]]
                self.assertEqual(read[:len(shown)], shown)
                self.assertEqual(read, self.texts[:len(read)])
                self.check_worded(reply)

    def test_a_film_cut_off_within_its_head_is_told(self):
        for size in (4, 11, 12, 100, 250):
            path = self.file(f"head-{size}.avi", self.film.read_bytes()[:size])
            self.check_refused(path, "video-unreadable", "video-cut-off")

    def test_an_interrupt_leaves_whole_lines_and_ends_politely(self):
        still = video.view_of(self.scene, 0, self.view_width, self.scene.height)
        long = video.save(self.folder / "long.avi", [still] * 1500)
        for wanted in (signal.SIGINT, signal.SIGTERM):
            reading = subprocess.Popen([office.PROGRAM, "read", "--video", long, "--json"], stdout=subprocess.PIPE,
                                       stderr=subprocess.PIPE, env=office.surroundings())
            self.addCleanup(reading.communicate)
            self.addCleanup(reading.kill)
            first = reading.stdout.readline()  # flushed while the film still runs
            reading.send_signal(wanted)
            rest, err = reading.communicate(timeout=office.SECONDS)
            self.assertEqual((reading.returncode, err), (0, b""))
            self.assertEqual([line["text"] for line in office.parsed(first + rest)], self.texts[:1])

    def test_what_is_no_film_is_refused_in_words(self):
        moving = b"GIF89a\x02\0\x02\0\x80\0\0\0\0\0\xff\xff\xff" + b"".join(
            b"\x21\xf9\x04\0\x0a\0\0\0\x2c\0\0\0\0\x02\0\x02\0\0\x02\x02" + cells + b"\0"
            for cells in (b"\x84\x51", b"\x0c\x0a")) + b"\x3b"
        self.check_refused(self.file("empty.mp4", b""), "video-unreadable")
        self.check_refused(self.file("text.mp4", b"Shelf swept on Monday.\n" * 50), "video-unreadable")
        self.check_refused(self.file("moving.gif", moving), "video-unreadable")
        self.check_refused(self.file("sound.mp3", b"ID3\x04\0\0\0\0\0\0" + b"\xff\xfb\x90\0" * 400), "video-unreadable")
        self.check_refused(self.file("sound.wav", b"RIFF\x24\x08\0\0WAVEfmt " + bytes(2100)), "video-unreadable")
        self.check_refused(self.pages[0].save(self.folder / "label.png"), "video-unreadable")
        self.check_refused(self.sheet, "video-unreadable")
        self.check_refused(self.folder, "file-unreadable")
        self.check_refused(self.folder / "none.mp4", "file-unreadable")
        os.mkfifo(self.folder / "pipe.mp4")
        self.check_refused(self.folder / "pipe.mp4", "file-unreadable")

    def test_a_film_is_no_picture_and_the_pictures_beside_it_are_read(self):
        good = self.pages[0].save(self.folder / "good.png")
        reply = office.run("read", self.film, good)
        self.assertEqual((reply.status, [line.get("error", line.get("text")) for line in reply.lines]),
                         (1, ["image-unreadable", self.texts[0]]))

    def test_one_way_of_reading_at_a_time(self):
        good = self.pages[0].save(self.folder / "good.png")
        for wrong in ((), (good, "--video", self.film), (good, "--burst", good),
                      ("--video", self.film, "--burst", good)):
            self.check_failure(office.run("read", *wrong), "wrong-usage", 2)


class Telephones(Reading):
    """The film of samples/shelf_film: hand-held, in grain and blur, compressed."""

    def filmed(self, name):
        labels = [page.save(self.folder / f"{at}.png") for at, page in enumerate(picture.pages_of(self.sheet, 300))]
        path = self.folder / name
        subprocess.run([SHELF_FILM, path, *labels[:2]], check=True)
        return path

    def test_a_film_taken_upright_is_read_as_it_is_shown(self):
        lying = self.filmed("lying.mp4")
        upright = self.file("upright.mp4", turned(lying.read_bytes()))
        for path, along in ((lying, 0), (upright, 1)):
            with self.subTest(path.name):
                reply = office.run("read", "--video", path)
                self.assertEqual((reply.status, {line["text"] for line in reply.lines}), (0, set(self.texts[:2])))
                for line in reply.lines:  # along its first side a symbol runs to the right; turned, downwards
                    side = [b - a for a, b in zip(*line["corners"][:2])]
                    self.assertGreater(side[along], 5 * abs(side[1 - along]), line)


class Pictures(Reading):
    """How telephones and scanners keep them; tests/vision/picture_source_test.cpp has the other forms."""

    def test_a_scan_of_sixteen_bits_is_read(self):
        page = self.pages[0]
        rows = b"".join(b"\0" + bytes(each for grey in page.pixels[y * page.width:(y + 1) * page.width]
                                      for each in (grey, grey)) for y in range(page.height))
        deep = self.file("deep.png", b"\x89PNG\r\n\x1a\n"
                         + picture.chunk(b"IHDR", struct.pack(">IIBBBBB", page.width, page.height, 16, 0, 0, 0, 0))
                         + picture.chunk(b"IDAT", zlib.compress(rows)) + picture.chunk(b"IEND", b""))
        reply = office.run("read", deep)
        self.assertEqual((reply.status, [line["text"] for line in reply.lines]), (0, self.texts[:1]))

    def test_a_photograph_taken_upright_is_read_as_it_is_shown(self):
        jpeg = subprocess.run(["pdftoppm", "-r", str(DPI), "-jpeg", "-singlefile", self.sheet], capture_output=True,
                              check=True).stdout
        # Exif's orientation 6: the first row is the right-hand side (from memory).
        tag = b"Exif\0\0MM\0*\0\0\0\x08\0\1" + struct.pack(">HHIHHI", 0x0112, 3, 1, 6, 0, 0)
        upright = jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(tag) + 2) + tag + jpeg[2:]
        lying, upright = self.file("lying.jpg", jpeg), self.file("upright.jpg", upright)
        for path, along in ((lying, 0), (upright, 1)):
            reply = office.run("read", path)
            self.assertEqual((reply.status, [line["text"] for line in reply.lines]), (0, self.texts[:1]))
            side = [b - a for a, b in zip(*reply.lines[0]["corners"][:2])]
            self.assertGreater(side[along], 5 * abs(side[1 - along]))


class Bursts(Reading):
    def shot(self, name, *pages):
        return video.row_of(list(pages)).save(self.folder / name)

    def test_shots_of_one_scene_give_each_label_once_placed_in_the_first(self):
        shots = [self.shot(f"{at}.png", *self.pages[:2]) for at in range(3)]
        reply, alone = office.run("read", "--burst", *shots), office.run("read", shots[0])
        self.assertEqual((reply.status, sorted(line["text"] for line in reply.lines)), (0, sorted(self.texts[:2])))
        self.assertEqual({line["file"] for line in reply.lines}, {str(shots[0])})
        placed = {line["text"]: line["corners"] for line in alone.lines}
        for line in reply.lines:
            for here, there in zip(line["corners"], placed[line["text"]]):
                self.assertLess(max(abs(a - b) for a, b in zip(here, there)), 5)

    def test_a_shot_that_cannot_be_read_is_told_and_the_others_are_read(self):
        bad = self.file("bad.png", b"no picture")
        good = [self.shot(f"{at}.png", self.pages[0]) for at in range(2)]
        for shots in ((good[0], bad, good[1]), (bad, *good)):
            reply = office.run("read", "--burst", *shots)
            self.assertEqual((reply.status, [line.get("error", line.get("text")) for line in reply.lines]),
                             (1, ["image-unreadable", self.texts[0]]))
            self.assertEqual(reply.lines[1]["file"], str(good[0]))
            self.check_worded(reply)

    def test_shots_that_show_nothing_say_nothing(self):
        shots = [picture.Gray(300, 200).save(self.folder / f"{at}.png") for at in range(2)]
        reply = office.run("read", "--burst", *shots)
        self.assertEqual((reply.status, reply.out, reply.err), (0, b"", ""))

    def test_none_that_can_be_read_is_a_failure_for_each(self):
        reply = office.run("read", "--burst", self.file("a.png", b"no"), self.folder / "none.png")
        self.assertEqual((reply.status, [line["error"] for line in reply.lines]),
                         (1, ["image-unreadable", "file-unreadable"]))


if __name__ == "__main__":
    office.main()
