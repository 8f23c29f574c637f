"""Regenerates tests/bench/reading.md: what is read, beside plain ZXing and zbar, against the goals.

    python3 tests/bench/reading.py --build DIR [--photos DIR] [--brief] [--resume]

Takes long, much of it for wrong texts; --brief draws fewer. Every row is kept in DIR/reading as it is measured; --resume measures only what is missing there. What was tried for a row
stands in reading_notes.md and is taken over. Seeds from 900000 on, which no reader and no model was tuned on.
"""
import argparse
import datetime
import pathlib
import re
import subprocess
import sys

HERE = pathlib.Path(__file__).parent
HARMS = ["module", "curl", "wrinkle", "defocus", "glare", "tape", "contrast", "noise", "all", "shelf"]
CHEAP = ["module", "contrast", "noise", "defocus", "clean"]
DEAR = ["curl", "curl-further", "curl-deep", "wrinkle", "glare", "glare-burst", "tape", "tape-anywhere", "all",
        "all-harder", "all-deep", "all-burst"]


def parts(brief, photos):
    """Title of each table, and what its pieces are called and run with."""
    yield "The model beside where the goals were measured", {
        f"validity.{harm}": ["validity", "--only", harm] for harm in HARMS}
    yield "Single labels and bursts", {
        f"goals.{row}": ["goals", "--only", row, "--labels", "100" if brief and row in DEAR else "300"]
        for row in CHEAP + DEAR}
    yield "Shelves", {"shelf": ["shelf", "--frames", "3" if brief else "6"]}
    yield "Sweeps", {"sweep": ["sweep"]}
    yield "Chairside", {"chairside": ["chairside", "--frames", "20" if brief else "60"]}
    if photos:
        yield "Photographs", {"photos": ["photos", photos]}
    frames, labels = ("1000", "2000") if brief else ("10000", "20000")
    yield "Wrong texts", {"wrong": ["wrong", "--frames", frames, "--labels", labels]}


def measured(program, folder, name, words, resume):
    kept = folder / name
    if not (resume and kept.exists()):
        table = subprocess.run([program, *words], check=True, capture_output=True, text=True).stdout
        kept.write_text(table, encoding="utf-8")
        print(f"{name}: done", file=sys.stderr)
    return kept.read_text(encoding="utf-8")


def joined(tables):
    """One table of all rows, under the head of the first."""
    rows = [[line for line in table.splitlines() if line.startswith("|")] for table in tables]
    return "\n".join(rows[0][:2] + [row for table in rows for row in table[2:]])


def notes():
    """Title to text, from reading_notes.md."""
    pieces = re.split(r"^## (.*)\n", (HERE / "reading_notes.md").read_text(encoding="utf-8"), flags=re.M)
    return dict(zip(pieces[1::2], (text.strip() for text in pieces[2::2])))


def report(program, folder, options):
    told = notes()
    yield ("# What is read\n\nWritten by tests/bench/reading.py on " + datetime.date.today().isoformat() +
           ", on two cores" + (", in brief" if options.brief else "") + ". The model: tests/vision/modelled_label.h "
           "and modelled_shelf.h; seeds from 900000 on. Times are of the processor. Intervals are Wilson's.\n")
    for title, pieces in parts(options.brief, options.photos):
        table = joined([measured(program, folder, *piece, options.resume) for piece in pieces.items()])
        yield f"\n## {title}\n\n{table}\n"
        if title in told:
            yield f"\n{told[title]}\n"


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--build", type=pathlib.Path, default=pathlib.Path("build"))
    parser.add_argument("--photos")
    parser.add_argument("--brief", action="store_true")
    parser.add_argument("--resume", action="store_true")
    options = parser.parse_args()
    folder = options.build / "reading"
    folder.mkdir(exist_ok=True)
    text = "".join(report(options.build / "bin/reading_bench", folder, options))
    (HERE / "reading.md").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
