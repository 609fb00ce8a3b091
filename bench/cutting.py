"""Runs the sheet or board search on files of instances: one line of JSON each, to judge it by published values.

    python bench/cutting.py --instances FOLDER_OR_FILE --rotate no --seconds 2 --json out.jsonl

A file's lines are `{"name", "items": [[width, height, copies]...], "bins": [[width, height, cost]...]}` for sheets, or
`{"name", "items": [[size, copies]...], "capacity"}` for lengths. The value is the number of sheets or lengths, or the
cost where an instance has several kinds of sheet. A first search, not timed, loads the compiled loops.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from cutting_halves.lengths import solve_lengths
from cutting_halves.sheets import load_loops, solve_sheets

SMALL = {"name": "small", "items": [[5, 4, 9], [3, 7, 5]], "bins": [[10, 10]]}
"""Compiles the loops: 9 parts of 5 x 4 and 5 of 3 x 7 on sheets of 10 x 10."""


def main() -> None:
    """Read the instances, solve each within the time given, write one line each."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--instances", type=Path, default=None, help="file of instances, or a folder of such files")
    parser.add_argument("--rotate", choices=("no", "yes"), default="no", help="whether rectangles may be turned")
    parser.add_argument("--seconds", type=float, default=1.0, help="time for each instance")
    parser.add_argument("--json", type=Path, default=None, help="file to write; standard output when left out")
    options = parser.parse_args()
    start = time.perf_counter()
    load_loops()
    sys.stderr.write(f"compiled loops ready after {time.perf_counter() - start:.1f} s\n")
    out = options.json.open("w", encoding="utf-8") if options.json else sys.stdout
    for file, instance in instances(options.instances):
        start = time.perf_counter()
        if "capacity" in instance:
            value, bound = solve_lengths(instance, options.seconds)
        else:
            value, bound = solve_sheets(instance, options.rotate == "yes", options.seconds)
        result = {
            "file": file, "name": instance["name"], "value": value, "bound": bound,
            "proven": value == bound, "seconds": round(time.perf_counter() - start, 3),
        }  # fmt: skip
        out.write(json.dumps(result) + "\n")
        out.flush()


def instances(place: Path | None) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the file and every instance of a file, or of all files below a folder; one small one without a place."""
    if place is None:
        yield "built in", SMALL
        return
    files = [place] if place.is_file() else sorted(place.rglob("*.jsonl"))
    for file in files:
        for line in file.read_text(encoding="utf-8").splitlines():
            if line.strip():
                yield file.name, json.loads(line)


if __name__ == "__main__":
    main()
