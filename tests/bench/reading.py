"""Regenerates tests/bench/reading.md: what is read, beside plain ZXing and zbar, against the goals.

    python3 tests/bench/reading.py --build DIR [--photos DIR] [--quick]

Takes about an hour on two cores; --quick draws a tenth of the labels and writes nothing, only prints.
Seeds from 900000 on, which no reader and no model was tuned on.
"""
import argparse
import pathlib
import subprocess
import sys

PARTS = [
    ("The model beside where the goals were measured", ["validity"], 60),
    ("Single labels and bursts", ["goals"], 300),
    ("Shelves", ["shelf", "--frames", "4"], None),
    ("Sweeps", ["sweep"], None),
    ("Wrong texts", ["wrong", "--frames", "10000"], 20000),
]


def run(program, words):
    return subprocess.run([program, *words], check=True, capture_output=True, text=True).stdout


def quicker(words, labels):
    words = [str(max(1, int(word) // 10)) if word.isdigit() else word for word in words]
    return words, labels and max(20, labels // 10)


def sections(program, photos, quick):
    for title, words, labels in PARTS:
        if quick:
            words, labels = quicker(words, labels)
        yield title, run(program, words + (["--labels", str(labels)] if labels else []))
    if photos:
        yield "Photographs", run(program, ["photos", photos])


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--build", default="build")
    parser.add_argument("--photos")
    parser.add_argument("--quick", action="store_true")
    options = parser.parse_args()
    program = pathlib.Path(options.build) / "bin/reading_bench"
    text = "# What is read\n\nWritten by tests/bench/reading.py; the model: tests/vision/modelled_label.h.\n"
    for title, table in sections(program, options.photos, options.quick):
        text += f"\n## {title}\n\n{table.strip()}\n"
        print(f"{title}: done", file=sys.stderr)
    if options.quick:
        print(text)
    else:
        pathlib.Path(__file__).with_name("reading.md").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
