"""The audit of a shelf, photographed or filmed, as a script sees it: labels printed by the program, laid side by
side."""

import signal
import subprocess

import picture
import video

import office

GAP = 40  # pixels of shelf between labels
DPI = 200
FILM_DPI = 150  # three pixels a module and more


def shelf_photo(path, pages, columns=3):
    """Labels in reading order on a white shelf."""
    wide, high = max(page.width for page in pages), max(page.height for page in pages)
    rows = -(-len(pages) // columns)
    photo = picture.Gray(columns * (wide + GAP) + GAP, rows * (high + GAP) + GAP)
    for index, page in enumerate(pages):
        photo.paste(page, GAP + index % columns * (wide + GAP), GAP + index // columns * (high + GAP))
    return photo.save(path)


def of_status(lines, *wanted):
    return [line for line in lines if line.get("status") in wanted]


class Audit(office.Case):
    @classmethod
    def setUpClass(cls):
        cls.made = office.filled_office(cls)

    def setUp(self):
        super().setUp()
        self.office = self.made.copied_to(self.folder / "office")
        self.office.ok("location", "add", "CAB2", "--name", "Cabinet 2", operator="MB")
        self.photos = self.folder / "photos"
        self.photos.mkdir()

    def shelved(self, count, location="CAB1", dpi=DPI):
        """Labels of a released load, put away, and their pictures by package."""
        _, labels = self.office.released(count)
        packages = [label["package"] for label in labels]
        self.office.ok("shelve", *packages, "--location", location)
        pdf = self.folder / f"{self.office.folder.name}-{self.office.files}.pdf"
        pages = picture.pages_of(pdf, dpi)
        self.assertEqual(len(pages), count)
        return dict(zip(packages, pages))

    def audit(self, *more, location="CAB1"):
        return self.office.run("audit", "--images", self.photos, "--location", location, *more)

    def summary(self, reply):
        self.assertEqual([list(line) for line in reply.lines if "summary" in line], [["summary"]])
        self.assertIn("summary", reply.lines[-1])
        return reply.lines[-1]["summary"]


class Shelf(Audit):
    def test_what_is_there_what_is_not_and_what_belongs_elsewhere(self):
        here, there = self.shelved(3), self.shelved(1, "CAB2")
        shown = [*list(here.items())[:2], *there.items()]
        shelf_photo(self.photos / "a.png", [page for _, page in shown])
        reply = self.audit()
        present, misplaced = of_status(reply.lines, "present"), of_status(reply.lines, "misplaced")
        self.assertEqual({line["package"] for line in present}, {package for package, _ in shown[:2]})
        self.assertEqual([(line["package"], line["expected_at"]) for line in misplaced],
                         [(shown[2][0], "CAB2")])
        self.assertEqual([line["package"] for line in of_status(reply.lines, "not-seen")], [list(here)[2]])
        for line in present:
            self.assertEqual((line["outcome"], line["reasons"], line["how"], line["sightings"],
                              line["first_frame"], len(line["corners"])), ("clear", [], "read", 1, 1, 4))
        counts = self.summary(reply)
        self.assertEqual((counts["present"], counts["misplaced"], counts["not-seen"], counts["frames"]),
                         (2, 1, 1, 1))
        self.assertEqual(reply.status, 0)

    def test_a_package_counts_once_however_many_photographs_show_it(self):
        packages = self.shelved(2)
        for name in ("a", "b", "c"):
            shelf_photo(self.photos / f"{name}.png", list(packages.values()))
        reply = self.audit()
        self.assertEqual([line["sightings"] for line in of_status(reply.lines, "present")], [3, 3])

    def test_the_exit_status_is_that_of_the_worst_package(self):
        packages = self.shelved(2)
        shelf_photo(self.photos / "a.png", list(packages.values()))
        withdrawn = list(packages)[0]
        self.office.ok("withdraw", withdrawn, "--why", "torn")
        reply = self.audit()
        self.assertEqual(reply.status, 20)
        line = of_status(reply.lines, "unexpected")[0]
        self.assertEqual((line["package"], line["outcome"], office.codes(line)),
                         (withdrawn, "do-not-use", ["withdrawn"]))

    def test_shelf_tags_place_the_packages_that_follow_them(self):
        first, second = self.shelved(1), self.shelved(1, "CAB2")
        tag = self.folder / "tag.pdf"
        self.office.ok("label", "shelf-tag", "--location", "CAB2", "--out", tag)
        shelf_photo(self.photos / "a.png", list(first.values()))
        shelf_photo(self.photos / "b.png", [picture.pages_of(tag, DPI)[0]], 1)
        shelf_photo(self.photos / "c.png", list(second.values()))
        reply = self.audit()
        self.assertEqual({line["package"]: line["seen_at"] for line in of_status(reply.lines, "present")},
                         {list(first)[0]: "CAB1", list(second)[0]: "CAB2"})
        self.assertEqual(self.summary(reply)["swept"], ["CAB1", "CAB2"])

    def test_labels_of_another_office_are_not_to_be_used(self):
        ours, made = self.shelved(1), self.office
        self.office = office.Office(self.folder / "other").fill()
        theirs = self.shelved(1)
        self.office = made
        shelf_photo(self.photos / "a.png", [*ours.values(), *theirs.values()])
        reply = self.audit()
        strangers = of_status(reply.lines, "unexpected")
        self.assertEqual([office.codes(line) for line in strangers], [["label-not-authentic"]])
        self.assertEqual(len(of_status(reply.lines, "present")), 1)
        self.assertEqual(reply.status, 20)

    def test_a_label_that_cannot_be_read_is_never_clear(self):
        packages = self.shelved(2)
        whole, damaged = packages.values()
        corners = office.run("read", damaged.save(self.folder / "whole.png")).lines[0]["corners"]
        left, right = int(min(x for x, _ in corners)), int(max(x for x, _ in corners))
        # More of the symbol than error correction of any level restores, erasures known or not.
        start, wide = left + (right - left) * 3 // 10, (right - left) * 6 // 10
        for y in range(damaged.height):
            at = y * damaged.width + start
            damaged.pixels[at:at + wide] = bytes(wide)
        self.assertEqual(office.run("read", damaged.save(self.folder / "damaged.png")).lines, [])
        shelf_photo(self.photos / "a.png", [whole, damaged])
        reply = self.audit()
        lines = [line for line in reply.lines if line.get("package") == list(packages)[1]]
        for line in lines:
            self.assertNotEqual(line.get("outcome"), "clear")
            self.assertTrue(line["status"] == "not-seen" or office.codes(line) == ["label-not-read"], line)
        self.assertEqual(len(lines), 1)

    def test_an_audit_moves_nothing_and_the_record_stays_whole(self):
        packages = self.shelved(2)
        shelf_photo(self.photos / "a.png", list(packages.values()))
        self.audit(location="CAB2")
        for package in packages:
            self.assertEqual(self.office.run("check", "--id", package).lines[0]["location"], "CAB1")
        self.assertEqual(self.office.run("ledger", "verify", operator=None).status, 0)
        kinds = [event["kind"] for event in self.office.events()]
        self.assertEqual((kinds.count("audit-begun"), kinds.count("audit-ended")), (1, 1))


class Reports(Audit):
    def test_paper_page_and_table_hold_what_was_found(self):
        packages = self.shelved(3)
        shelf_photo(self.photos / "a.png", list(packages.values())[:2])
        pdf, page, table = (self.folder / f"audit.{kind}" for kind in ("pdf", "html", "csv"))
        reply = self.audit("--report", pdf, "--page", page, "--table", table)
        self.assertEqual(reply.status, 0, reply.err)
        self.assertTrue(pdf.read_bytes().startswith(b"%PDF-"))
        html = page.read_text(encoding="utf-8")
        self.assertIn("data:image/jpeg;base64,", html)
        self.assertNotIn("<script", html)
        lines = table.read_text(encoding="utf-8").splitlines()
        self.assertEqual([line.split(",")[0] for line in lines], ["line", "package", "package", "not-seen"])

    def test_a_report_may_not_take_the_place_of_the_office_s_files(self):
        self.shelved(1)
        self.check_failure(self.audit("--report", self.office.folder / "record.db"), "bad-value", 2)


class Requests(Audit):
    def test_exactly_one_source(self):
        for source in ([], ["--camera", "0", "--images", self.photos]):
            reply = self.office.run("audit", "--location", "CAB1", *source)
            self.check_failure(reply, "wrong-usage", 2)

    def test_what_is_not_there_is_told(self):
        self.check_failure(self.audit(), "folder-without-pictures", 1)
        shelf_photo(self.photos / "a.png", list(self.shelved(1).values()))
        self.check_failure(self.audit(location="NOWHERE"), "code-unknown", 20)
        self.check_failure(self.audit("--resume"), "audit-unknown", 1)
        self.assertEqual(self.audit().status, 0)
        self.check_failure(self.audit("--resume"), "audit-unknown", 1)


class Film(Audit):
    def film(self, pages, name="film.avi", stand=0):
        """A sweep along the labels that first stands still for so many frames."""
        scene, width = video.row_of(list(pages)), (pages[0].width + 2 * video.GAP) // 4 * 4
        still = [video.view_of(scene, 0, width, scene.height)] * stand
        return video.save(self.folder / name, still + video.views_along(scene, width))

    def on_film(self, count, location="CAB1"):
        return self.shelved(count, location, FILM_DPI)

    def tag(self, location):
        pdf = self.folder / "tag.pdf"
        self.office.ok("label", "shelf-tag", "--location", location, "--out", pdf)
        return picture.pages_of(pdf, FILM_DPI)[0]

    def audit(self, film, *more, location="CAB1"):
        return self.office.run("audit", "--video", film, "--location", location, *more)

    def starting(self, film, *more):
        command = [office.PROGRAM, "--office", self.office.folder, "--operator", "JT", "audit", "--video", film,
                   "--location", "CAB1", *more]
        sweep = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=office.surroundings())
        self.addCleanup(sweep.communicate)
        self.addCleanup(sweep.kill)
        return sweep

    def test_a_filmed_shelf_is_told_package_by_package(self):
        here, strays, there = self.on_film(3), self.on_film(2, "CAB2"), self.on_film(2, "CAB2")
        (stray, stray_page), (torn, torn_page) = strays.items()
        self.office.ok("withdraw", torn, "--why", "torn")
        shown = [*list(here.values())[:2], stray_page, torn_page, self.tag("CAB2"), *there.values()]
        reply = self.audit(self.film(shown))
        places = {line["package"]: line["seen_at"] for line in of_status(reply.lines, "present")}
        self.assertEqual(places, {**dict.fromkeys(list(here)[:2], "CAB1"), **dict.fromkeys(there, "CAB2")})
        self.assertEqual([(line["package"], line["seen_at"], line["expected_at"], line["outcome"])
                          for line in of_status(reply.lines, "misplaced")], [(stray, "CAB1", "CAB2", "clear")])
        self.assertEqual([(line["package"], line["outcome"], office.codes(line))
                          for line in of_status(reply.lines, "unexpected")], [(torn, "do-not-use", ["withdrawn"])])
        self.assertEqual([line["package"] for line in of_status(reply.lines, "not-seen")], [list(here)[2]])
        self.assertEqual(of_status(reply.lines, "unreadable"), [])
        counts = self.summary(reply)
        self.assertEqual((counts["packages"], counts["clear"], counts["do-not-use"], counts["matched"],
                          counts["interrupted"], counts["swept"]), (6, 5, 1, 0, False, ["CAB1", "CAB2"]))
        self.assertEqual(reply.status, 20)

    def test_past_its_use_by_day_everything_on_film_is_do_not_use(self):
        packages = self.on_film(2)
        self.office.at = "2031-05-04 08:00:00"
        reply = self.audit(self.film(list(packages.values())))
        self.assertEqual({line["outcome"] for line in reply.lines if "outcome" in line}, {"do-not-use"})
        self.assertTrue(all("past-use-by" in office.codes(line) for line in reply.lines if "reasons" in line))
        self.assertEqual(reply.status, 20)

    def test_a_label_of_another_office_on_film_is_not_to_be_used(self):
        ours, made = self.on_film(1), self.office
        self.office = office.Office(self.folder / "other").fill()
        theirs = self.on_film(1)
        self.office = made
        reply = self.audit(self.film([*ours.values(), *theirs.values()]))
        self.assertEqual([office.codes(line) for line in of_status(reply.lines, "unexpected")],
                         [["label-not-authentic"]])
        self.assertEqual([line["package"] for line in of_status(reply.lines, "present")], list(ours))
        self.assertEqual(reply.status, 20)

    def test_an_interrupted_sweep_keeps_what_it_saw_and_is_gone_on_with(self):
        packages = self.on_film(2)
        film = self.film(list(packages.values()), stand=1500)
        first, second = packages
        sweep = self.starting(film)
        self.assertIn(b"CLEAR", sweep.stderr.readline())  # it was seen; the film stands still for long yet
        sweep.send_signal(signal.SIGINT)
        out, _ = sweep.communicate(timeout=office.SECONDS)
        self.assertEqual(sweep.returncode, 0)
        self.assertIn(b"1 not seen", out)
        reply = self.audit(film, "--resume")
        self.assertEqual([line["package"] for line in of_status(reply.lines, "present")], [first, second])
        counts = self.summary(reply)
        self.assertEqual((reply.status, counts["audit"], counts["interrupted"], counts["not-seen"]),
                         (0, "CAB1-1", False, 0))
        self.check_failure(self.audit(film, "--resume"), "audit-unknown", 1)
        self.office.ok("ledger", "verify", operator=None)

    def test_two_sweeps_of_one_shelf_at_once_both_come_to_their_end(self):
        film = self.film(list(self.on_film(2).values()), stand=100)
        sweeps = [self.starting(film, "--json") for _ in range(2)]
        summaries = []
        for sweep in sweeps:
            out, err = sweep.communicate(timeout=office.SECONDS)
            self.assertEqual((sweep.returncode, err), (0, b""), out)
            summaries.append(office.parsed(out)[-1]["summary"])
        self.assertEqual({counts["audit"] for counts in summaries}, {"CAB1-1", "CAB1-2"})
        self.assertEqual([counts["present"] for counts in summaries], [2, 2])
        self.office.ok("ledger", "verify", operator=None)

    def test_a_film_that_was_cut_off_in_a_frame_keeps_what_it_showed(self):
        packages = self.on_film(2)
        film = self.film(list(packages.values()), stand=20)
        reply = self.audit(video.cut(film, 0.3, self.folder / "cut.avi"))
        self.assertEqual([line["package"] for line in of_status(reply.lines, "present")], list(packages)[:1])
        self.assertEqual([line["package"] for line in of_status(reply.lines, "not-seen")], list(packages)[1:])
        self.assertEqual([line["error"] for line in reply.lines if "error" in line], ["video-cut-off"])
        self.assertTrue(self.summary(reply)["interrupted"])
        self.assertEqual(reply.status, 1)
        self.check_worded(reply)

    def test_what_is_no_film_is_refused_and_no_audit_begun(self):
        for name, data in (("empty.mp4", b""), ("text.mp4", b"no film"), ("sound.wav", b"RIFF\0\1\0\0WAVEfmt ")):
            path = self.folder / name
            path.write_bytes(data)
            self.check_failure(self.audit(path), "video-unreadable", 1)
        self.check_failure(self.audit(self.folder), "file-unreadable", 1)
        self.check_failure(self.audit(self.folder / "none.mp4"), "file-unreadable", 1)
        self.assertFalse([event for event in self.office.events() if event["kind"].startswith("audit")])

    def test_frames_of_four_thousand_pixels_are_swept(self):
        packages = self.shelved(3)
        frame = picture.Gray(3840, 2160)
        for at, page in enumerate(packages.values()):
            frame.paste(page, 300 + at * 1200, 400 + at * 500)
        reply = self.audit(video.save(self.folder / "wide.avi", [frame] * 4))
        self.assertEqual({line["package"] for line in of_status(reply.lines, "present")}, set(packages))
        self.assertEqual(reply.status, 0)

    def test_a_label_and_its_photograph_are_one_package(self):
        (package, page), = self.on_film(1).items()
        reply = self.audit(self.film([page, page, page]))
        self.assertEqual([line["package"] for line in of_status(reply.lines, "present")], [package])
        self.assertEqual(self.summary(reply)["packages"], 1)


if __name__ == "__main__":
    office.main()
