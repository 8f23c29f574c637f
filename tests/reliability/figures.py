"""What a reliability run measured, for the table of long.py.

Every run of this folder takes --figures FILE and appends its rows there; without it they are printed alone.
"""
import json


def tell(path, part, figures):
    """`figures`: a list of (what, value) pairs, in the order of the table; values are numbers or short texts."""
    for what, value in figures:
        print(f"{what}: {value}", flush=True)
    if path:
        with open(path, "a", encoding="utf-8") as kept:
            for what, value in figures:
                kept.write(json.dumps({"part": part, "what": what, "value": value}) + "\n")
