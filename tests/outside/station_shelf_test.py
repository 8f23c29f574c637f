"""Shelves at the station: swept frame by frame, filmed or photographed, each beside what the command finds."""

import os
import re
import subprocess
import time
import urllib.parse

import picture
import video

import audit_test
import office
import station

SHELF_FILM = os.environ.get("SHELF_FILM", "")
SENDER_GONE = 30  # seconds after which a sweep without frames is over for certain


def pgm(gray):
    return b"P5\n%d %d\n255\n" % (gray.width, gray.height) + bytes(gray.pixels)


class Shelves(audit_test.Audit):
    """A station on an office of its own, and a browser in which JT works."""

    def setUp(self):
        super().setUp()
        self.office.ok("location", "add", "CAB3", "--name", "<b onclick=x>Cabinet</b>", operator="MB")
        pin = self.office.ok("operator", "pin", "JT", operator="MB")[0]["pin"]
        self.station = self.enterContext(station.Station(self.office.folder))
        self.browser = self.station.browser()
        self.pin = pin
        self.browser.sign_in("JT", pin)

    def begin(self, browser=None, location="CAB1", source="station-camera", **more):
        browser = browser or self.browser
        return browser.send("/shelf", "/shelf/begin", {"location": location, "source": source, **more})

    def begun(self, **more):
        answer = self.begin(**more)
        self.assertEqual(answer.status, 200, answer.text)
        return answer.json

    def post(self, sweep, data, kind="frame", browser=None, key=None, **more):
        query = urllib.parse.urlencode({"key": key or sweep["key"], **more})
        headers = {"Accept": "application/json", "X-Loadlight-Token": sweep[f"{kind}_token"]}
        return (browser or self.browser).ask("POST", f"{sweep['page']}/{kind}?{query}", data, headers)

    def end(self, sweep, how="finish"):
        answer = self.browser.post(sweep["page"] + "/end", {"token": sweep["end_token"], "how": how}.items())
        self.assertEqual((answer.status, answer.json["go"]), (200, sweep["page"]), answer.text)

    def found(self, page):
        answer = self.browser.get(page + "/report.jsonl")
        self.assertEqual(answer.status, 200, answer.text)
        return office.parsed(answer.body)

    def film_of(self, pages, stand=0):
        scene, width = video.row_of(list(pages)), (pages[0].width + 2 * video.GAP) // 4 * 4
        still = [video.view_of(scene, 0, width, scene.height)] * stand
        return still + video.views_along(scene, width)

    def upload(self, data, name="sweep.avi", location="CAB1", browser=None, **more):
        browser = browser or self.browser
        token = re.search(r'data-video-token="([^"]+)"', browser.page("/shelf")).group(1)
        query = urllib.parse.urlencode({"location": location, "name": name, **more})
        return browser.ask("POST", f"/shelf/video?{query}", data,
                           {"Accept": "application/json", "X-Loadlight-Token": token})

    def uploaded(self, data, **more):
        answer = self.upload(data, **more)
        self.assertEqual(answer.status, 200, answer.text)
        return self.over(answer.json["go"])

    def over(self, page, seconds=office.SECONDS):
        until = time.monotonic() + seconds
        while not self.browser.get(page, headers={"Accept": "application/json"}).json["over"]:
            self.assertLess(time.monotonic(), until)
            time.sleep(0.2)
        return page

    def audits_begun(self):
        return [event for event in self.office.events() if event["kind"] == "audit-begun"]


class Camera(Shelves):
    def test_frames_are_outlined_counted_and_reported(self):
        here, strays = self.shelved(3, dpi=audit_test.FILM_DPI), self.shelved(1, "CAB2", audit_test.FILM_DPI)
        (torn, torn_page), *rest = here.items()
        self.office.ok("withdraw", torn, "--why", "torn")
        shown = [torn_page, rest[0][1], *strays.values()]
        sweep = self.begun()
        self.assertEqual(sweep["audit"], "CAB1-1")
        answers = []
        for frame in self.film_of(shown):
            answer = self.post(sweep, pgm(frame))
            self.assertEqual(answer.status, 200, answer.text)
            answers.append(answer.json)
        self.assertEqual([answer["frame"] for answer in answers], list(range(1, len(answers) + 1)))
        self.assertEqual(answers[-1]["packages"], 3)
        outlined = {(label["outcome"], label["status"]) for answer in answers for label in answer["in_view"]}
        self.assertEqual(outlined, {("do-not-use", "unexpected"), ("clear", "present"), ("clear", "misplaced")})
        self.assertTrue(all(len(label["corners"]) == 4 for answer in answers for label in answer["in_view"]))
        self.end(sweep)
        lines = self.found(sweep["page"])
        by_package = {line["package"]: line for line in lines if "package" in line}
        self.assertEqual({package: line["status"] for package, line in by_package.items()},
                         {torn: "unexpected", rest[0][0]: "present", rest[1][0]: "not-seen",
                          **dict.fromkeys(strays, "misplaced")})
        summary = lines[-1]["summary"]
        self.assertEqual((summary["audit"], summary["packages"], summary["interrupted"]), ("CAB1-1", 3, False))
        page = self.browser.page(sweep["page"])
        for name in ("list-withdrawn", "list-misplaced", "list-fine", "not-seen-head"):
            self.assertIn(f'id="{name}"', page)
        for name in ("list-recalled", "list-expired", "list-unexpected"):
            self.assertNotIn(f'id="{name}"', page)
        self.assertIn(sweep["page"], self.browser.page("/shelf"))

    def test_a_dark_frame_asks_for_light_in_words(self):
        sweep = self.begun()
        answer = self.post(sweep, pgm(picture.Gray(640, 480, bytearray(640 * 480)))).json
        self.assertEqual([hint["code"] for hint in answer["hints"]], ["too-dark"])
        self.assertTrue(all(hint["word"] and hint["text"] for hint in answer["hints"]))
        self.end(sweep)

    def test_a_browser_that_goes_away_leaves_a_sweep_to_go_on_with(self):
        packages = self.shelved(2, dpi=audit_test.FILM_DPI)
        first, second = packages.values()
        sweep = self.begun()
        for _ in range(4):
            self.post(sweep, pgm(self.film_of([first])[0]))
        self.over(sweep["page"], SENDER_GONE)
        self.assertTrue(self.found(sweep["page"])[-1]["summary"]["interrupted"])
        self.assertIn("source=station-camera", self.browser.page("/shelf"))
        again = self.begun(resume="1")
        self.assertEqual(again["audit"], sweep["audit"])
        for _ in range(4):
            self.post(again, pgm(self.film_of([second])[0]))
        self.end(again)
        summary = self.found(again["page"])[-1]["summary"]
        self.assertEqual((summary["audit"], summary["present"], summary["not-seen"], summary["interrupted"]),
                         (sweep["audit"], 2, 0, False))
        self.assertEqual(self.begin(resume="1").json["error"], "audit-unknown")
        self.office.ok("ledger", "verify", operator=None)

    def test_a_sweep_stopped_by_a_person_tells_of_no_trouble(self):
        sweep = self.begun()
        self.post(sweep, pgm(picture.Gray(640, 480)))
        self.end(sweep, "later")
        page = self.browser.page(sweep["page"])
        self.assertNotIn('class="failure"', page)
        self.assertIn("/shelf?location=CAB1&amp;source=station-camera", page)
        self.assertTrue(self.found(sweep["page"])[-1]["summary"]["interrupted"])

    def test_two_sweeps_of_one_shelf_are_two_audits(self):
        first, second = self.begun(), self.begun()
        self.assertEqual((first["audit"], second["audit"]), ("CAB1-1", "CAB1-2"))
        self.assertNotEqual(first["page"], second["page"])
        for sweep in (first, second):
            self.post(sweep, pgm(picture.Gray(640, 480)))
            self.end(sweep)
        self.office.ok("ledger", "verify", operator=None)

    def test_what_still_goes_on_is_not_gone_on_with_twice(self):
        sweep = self.begun()
        self.assertEqual(self.begin(resume="1").json["error"], "sweep-goes-on")
        self.end(sweep)

    def test_a_second_touch_begins_nothing_more(self):
        fields = self.browser.form("/shelf", "/shelf/begin") | {"location": "CAB1", "source": "station-camera"}
        answers = [self.browser.post("/shelf/begin", fields.items()).json for _ in range(2)]
        self.assertEqual(answers[0], answers[1])
        self.assertEqual(len(self.audits_begun()), 1)
        self.end(answers[0])

    def test_at_most_so_many_at_once(self):
        sweeps = [self.begun() for _ in range(6)]
        self.assertEqual(self.begin().json["error"], "too-many-requests")
        for sweep in sweeps:
            self.end(sweep)
        self.end(self.begun())


class Doors(Shelves):
    def test_nobody_sweeps_without_a_name(self):
        nobody = self.station.browser()
        self.assertIn('id="begin"', nobody.page("/shelf"))
        self.assertEqual(self.begin(nobody).status, 401)
        self.assertEqual(self.upload(b"RIFF", browser=nobody).status, 401)
        sweep = self.begun()
        self.assertEqual(nobody.get(sweep["page"], headers={"Accept": "application/json"}).status, 401)
        self.assertEqual(nobody.get(sweep["page"] + "/report").status, 303)
        self.end(sweep)
        self.assertEqual(len(self.audits_begun()), 1)

    def test_a_second_browser_looks_on_and_puts_nothing_in(self):
        sweep = self.begun()
        other = self.station.browser()
        other.sign_in("JT", self.pin)
        self.assertIn(sweep["page"], other.page("/shelf"))
        self.assertIn("progress", other.page(sweep["page"]))
        frame = pgm(picture.Gray(640, 480))
        self.assertEqual(self.post(sweep, frame, browser=other).json["error"], "form-stale")
        self.assertEqual(self.post(sweep, frame, key="x" * 26).json["error"], "job-unknown")
        answer = other.send(sweep["page"], sweep["page"] + "/end", {"how": "finish"})
        self.assertEqual(answer.status, 200)
        self.assertEqual(self.post(sweep, frame).json["error"], "job-unknown")

    def test_what_is_no_picture_is_told_and_the_sweep_goes_on(self):
        sweep = self.begun()
        self.assertEqual(self.post(sweep, b"").json["error"], "image-unreadable")
        refused = self.post(sweep, b"no picture").json
        self.assertEqual(refused["error"], "image-unreadable")
        self.assertNotIn("{", refused["text"])
        self.assertEqual(self.post(sweep, pgm(picture.Gray(640, 480))).status, 200)
        self.end(sweep)

    def test_a_place_that_is_none_begins_nothing(self):
        for location in ("", "NOWHERE", "<script>"):
            self.assertEqual(self.begin(location=location).json["error"], "code-unknown")
        self.assertEqual(self.audits_begun(), [])

    def test_markup_in_names_is_text(self):
        self.assertNotIn("<b onclick", self.browser.page("/shelf"))
        page = self.uploaded(video.save(self.folder / "a.avi", [picture.Gray(640, 480)] * 3).read_bytes(),
                             name="<img src=x onerror=y>.avi")
        for text in (self.browser.page(page), self.browser.page("/shelf"), self.browser.page(page + "/report")):
            self.assertNotIn("<img src=x", text)
        self.assertIn("&lt;img src=x", self.browser.page("/shelf"))

    def test_a_report_that_is_gone_is_told(self):
        for path in ("/shelf/nothing", "/shelf/nothing/report", "/shelf/nothing/report.pdf", "/shelf/nothing/unreadable/1"):
            self.assertEqual(self.browser.get(path).status, 404, path)


class Films(Shelves):
    def same_as_the_command(self, page, *source, location="CAB1"):
        wanted = self.office.run("audit", *source, "--location", location)
        lines = self.found(page)
        for reply in (lines, wanted.lines):
            for name in ("audit", "interrupted"):
                reply[-1]["summary"].pop(name)
        self.assertEqual(lines, [line for line in wanted.lines if "error" not in line])

    def test_a_video_gives_what_the_command_gives(self):
        here, strays = self.shelved(3, dpi=audit_test.FILM_DPI), self.shelved(1, "CAB2", audit_test.FILM_DPI)
        film = video.save(self.folder / "film.avi", self.film_of([*list(here.values())[:2], *strays.values()]))
        page = self.uploaded(film.read_bytes())
        self.same_as_the_command(page, "--video", film)

    def test_papers_hold_what_was_found_and_run_nothing(self):
        packages = self.shelved(2, dpi=audit_test.FILM_DPI)
        film = video.save(self.folder / "film.avi", self.film_of([*packages.values()]))
        page = self.uploaded(film.read_bytes())
        report = self.browser.get(page + "/report")
        self.assertEqual(report.headers["content-security-policy"],
                         "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; "
                         "form-action 'none'; frame-ancestors 'self'")
        self.assertIn("data:image/jpeg;base64,", report.text)
        self.assertNotIn("<script", report.text)
        pdf = self.browser.get(page + "/report.pdf")
        self.assertEqual((pdf.headers["content-type"], pdf.body[:5]), ("application/pdf", b"%PDF-"))
        table = self.browser.get(page + "/report.csv").text.splitlines()
        self.assertEqual([line.split(",")[0] for line in table], ["line", "package", "package"])

    def test_a_video_cut_off_keeps_what_it_showed_and_is_gone_on_with(self):
        packages = self.shelved(2, dpi=audit_test.FILM_DPI)
        film = video.save(self.folder / "film.avi", self.film_of([*packages.values()], stand=20))
        whole = film.read_bytes()
        page = self.uploaded(whole[:int(len(whole) * 0.3)], name="film.avi")
        summary = self.found(page)[-1]["summary"]
        self.assertEqual((summary["present"], summary["not-seen"], summary["interrupted"]), (1, 1, True))
        text = self.browser.page(page)
        self.assertIn("film.avi", text)
        self.assertIn('class="failure"', text)
        self.assertNotIn("loadlight-upload", text)
        again = self.uploaded(whole, name="film.avi", resume="1")
        summary = self.found(again)[-1]["summary"]
        self.assertEqual((summary["audit"], summary["present"], summary["interrupted"]), ("CAB1-1", 2, False))

    def test_what_is_no_film_is_refused_by_its_name_and_no_audit_begun(self):
        for data in (b"", b"no film", b"RIFF\0\1\0\0WAVEfmt "):
            answer = self.upload(data, name="C:\\films\\sweep.mp4")
            self.assertEqual((answer.status, answer.json["error"]), (503, "video-unreadable"))
            self.assertIn("sweep.mp4 ", answer.json["text"])
            self.assertNotIn("films", answer.json["text"])
        self.assertEqual(self.audits_begun(), [])

    def test_a_long_video_is_stopped_and_gone_on_with_where_it_was(self):
        packages = self.shelved(1, dpi=audit_test.FILM_DPI)
        frames = self.film_of([*packages.values()], stand=1500)
        film = video.save(self.folder / "film.avi", frames)
        page = self.upload(film.read_bytes()).json["go"]
        while self.browser.get(page, headers={"Accept": "application/json"}).json["frame"] < 5:
            time.sleep(0.05)
        progress = self.browser.get(page, headers={"Accept": "application/json"}).json
        self.assertEqual((progress["over"], progress["frames"]), (False, len(frames)))
        self.assertEqual(self.browser.send(page, page + "/end", {"how": "later"}).status, 200)
        self.over(page)
        seen = self.found(page)[-1]["summary"]["frames"]
        self.assertLess(seen, len(frames))
        again = self.over(self.browser.send(page, page + "/go-on").json["go"])
        summary = self.found(again)[-1]["summary"]
        self.assertEqual((summary["audit"], summary["frames"], summary["present"], summary["interrupted"]),
                         ("CAB1-1", len(frames), 1, False))

    def test_a_telephone_s_film_with_damaged_labels_shows_what_could_not_be_read(self):
        packages = self.shelved(3, dpi=300)
        labels = [page.save(self.folder / f"{at}.png") for at, page in enumerate(packages.values())]
        film = self.folder / "shelf.mp4"
        subprocess.run([SHELF_FILM, film, labels[0], "--torn", labels[1], labels[2]], check=True)
        page = self.uploaded(film.read_bytes(), name="shelf.mp4")
        self.same_as_the_command(page, "--video", film)
        text = self.browser.page(page)
        pictures = re.findall(r'src="(/shelf/[^"]+/unreadable/\d+)"', text)
        self.assertEqual(len(pictures), self.found(page)[-1]["summary"]["unreadable"])
        for path in pictures:
            self.assertEqual(self.browser.get(path).body[:2], b"\xff\xd8")


class Photographs(Shelves):
    def test_photographs_give_what_the_command_gives(self):
        packages = self.shelved(3)
        pages = list(packages.values())
        for name, shown in (("a.png", pages[:2]), ("b.png", pages[1:2])):
            audit_test.shelf_photo(self.photos / name, shown)
        sweep = self.begun(source="station-photographs")
        for name in ("a.png", "b.png"):
            answer = self.post(sweep, (self.photos / name).read_bytes(), "photograph", name=name)
            self.assertEqual((answer.status, answer.json["hints"]), (200, []), answer.text)
        refused = self.post(sweep, b"no picture", "photograph", name="c.png")
        self.assertEqual(refused.json["error"], "image-unreadable")
        self.assertIn("c.png", refused.json["text"])
        self.end(sweep)
        wanted = self.office.run("audit", "--images", self.photos, "--location", "CAB1").lines
        lines = self.found(sweep["page"])
        for reply in (lines, wanted):
            for name in ("audit", "seconds"):
                reply[-1]["summary"].pop(name)
        self.assertEqual(lines, wanted)


if __name__ == "__main__":
    office.main()
