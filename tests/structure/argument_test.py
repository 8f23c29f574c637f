"""The fail-safe argument in DEVELOPERS.md names tests that exist."""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]


def rows():
    section = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("## How a wrong Clear could come about")[1]
    for line in section.split("\n## ")[0].splitlines():
        if line.startswith("| ") and not line.startswith(("| ---", "| a wrong Clear")):
            yield [cell.strip() for cell in line.strip("|").split(" | ")]


def problem_with(shown):
    named = re.fullmatch(r"`([\w/.]+)`(?:: (.+)|, .+)?", shown)
    if not named:
        return "not a test's file and name"
    file = ROOT / "tests" / named[1]
    if not file.exists():
        return "no such file"
    words = re.sub(r"[\"\n]\s*|\s+", " ", file.read_text(encoding="utf-8"))
    return None if not named[2] or named[2].replace("\"", "") in words else "no such test"


def main():
    problems, count = [], 0
    for ways, stopped, shown in rows():
        count += 1
        problems += [f"{ways}: {each}: {problem_with(each)}" for each in shown.split("; ") if problem_with(each)]
        if not stopped:
            problems.append(f"{ways}: nothing stops it")
    print(*problems, f"{count} ways", sep="\n")
    return 1 if problems or count < 15 else 0


if __name__ == "__main__":
    sys.exit(main())
