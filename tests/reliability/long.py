"""The long forms of everything in this folder, one after the other, and a table of their figures.

    python3 tests/reliability/long.py --build build [--only NAME] [--short] [--seed N] [--kept]

`build` is a finished build of everything. Takes hours; --short runs what the ordinary tests run, --kept nothing:
it shows what the runs before left, each of its own --only. The table is printed as Markdown at the end, and kept in BUILD/reliability.md; every part's own output in BUILD/reliability/.
Exits 1 when a part failed.
"""
import argparse
import json
import os
import pathlib
import subprocess
import sys
import time

HERE = pathlib.Path(__file__).resolve().parent
# Part and its title in the table; what runs it is the file of that name.
PARTS = {"crash": "Killed and cut off", "faults": "Calls that fail", "tamper": "Altered records",
         "fuzz": "Inputs thrown at parsers", "load": "Fifty clients at once", "mutants": "Rules changed",
         "races": "Looked for races"}
NEEDS_BUILD = {"fuzz", "mutants", "races"}


def run(part, build, options):
    """Whether it passed; minutes; its figures."""
    kept = build / "reliability"
    told = kept / f"{part}.jsonl"
    if options.kept and not (kept / f"{part}.ended").exists():
        return False, 0.0, [{"what": "was not run to its end", "value": ""}]
    if options.kept:
        return *json.loads((kept / f"{part}.ended").read_text(encoding="utf-8")), figures_in(told)
    for before in (told, kept / f"{part}.ended"):
        before.unlink(missing_ok=True)
    command = [sys.executable, "-B", str(HERE / f"{part}.py"), "--figures", str(told)]
    command += [] if options.short else ["--long"]
    command += ["--build", str(build)] if part in NEEDS_BUILD else []
    command += ["--seed", str(options.seed)] if options.seed is not None else []
    begun = time.monotonic()
    with open(kept / f"{part}.log", "w", encoding="utf-8") as log:
        status = subprocess.run(command, stdout=log, stderr=log, check=False,
                                env=os.environ | {"LOADLIGHT": str(build / "bin" / "loadlight"),
                                                  "IO_FAULTS": str(build / "tests" / "reliability")}).returncode
    ended = [status == 0, (time.monotonic() - begun) / 60]
    (kept / f"{part}.ended").write_text(json.dumps(ended), encoding="utf-8")
    return *ended, figures_in(told)


def figures_in(told):
    return [json.loads(line) for line in told.read_text(encoding="utf-8").splitlines()] if told.exists() else []


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--build", type=pathlib.Path, required=True)
    arguments.add_argument("--only", choices=PARTS)
    arguments.add_argument("--short", action="store_true")
    arguments.add_argument("--seed", type=int)
    arguments.add_argument("--kept", action="store_true")
    options = arguments.parse_args()
    build = options.build.resolve()
    (build / "reliability").mkdir(exist_ok=True)
    lines, failed = ["| | | |", "| --- | --- | --- |"], []
    for part, title in PARTS.items():
        if options.only and part != options.only:
            continue
        passed, minutes, figures = run(part, build, options)
        print(f"{part}: {'passed' if passed else 'FAILED'} in {minutes:.1f} minutes", file=sys.stderr, flush=True)
        failed += [] if passed else [part]
        for index, figure in enumerate(figures or [{"what": "no figures", "value": ""}]):
            value = f"{figure['value']:,}" if isinstance(figure["value"], int) else figure["value"]
            lines.append(f"| {title if index == 0 else ''} | {figure['what']} | {value} |")
    table = "\n".join(lines)
    (build / "reliability.md").write_text(table + "\n", encoding="utf-8")
    print(table)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
