"""Runs the sheet or board search on files of instances: one line of JSON each, to judge it by published values.

    python bench/cutting.py --instances FOLDER_OR_FILE --rotate no --seconds 2 --json out.jsonl

A file's lines are `{"name", "items": [[width, height, copies]...], "bins": [[width, height, cost]...]}` for sheets, or
`{"name", "items": [[size, copies]...], "capacity"}` for lengths. The value is the number of sheets or lengths, or the
cost where an instance has several kinds of sheet. A first search, not timed, loads the compiled loops.

    python bench/cutting.py --own 40 --seconds 10      furniture jobs: sheets in several sizes, offcuts
    python bench/cutting.py --parts 10 100 1000        growth with the number of parts
    python bench/cutting.py --corrupted 10000          plans made wrong on purpose, shown to the checker
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from cutting_halves.lengths import solve_lengths
from cutting_halves.sheets import load_loops, solve_own, solve_sheets

SMALL = {"name": "small", "items": [[5, 4, 9], [3, 7, 5]], "bins": [[10, 10]]}
"""Compiles the loops: 9 parts of 5 x 4 and 5 of 3 x 7 on sheets of 10 x 10."""


def main() -> None:
    """Read or make the instances, solve each within the time given, write one line each."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--instances", type=Path, default=None, help="file of instances, or a folder of such files")
    parser.add_argument("--rotate", choices=("no", "yes"), default="no", help="whether rectangles may be turned")
    parser.add_argument("--seconds", type=float, default=1.0, help="processor time for each instance")
    parser.add_argument("--json", type=Path, default=None, help="file to write; standard output when left out")
    parser.add_argument("--own", type=int, default=0, metavar="N", help="N furniture jobs of up to 60 parts")
    parser.add_argument("--parts", type=int, nargs="*", default=[], metavar="N", help="furniture jobs of N parts each")
    parser.add_argument("--corrupted", type=int, default=0, metavar="N", help="N corrupted plans for the checker")
    parser.add_argument("--rivals", action="store_true", help="add what a general packing library reaches")
    options = parser.parse_args()
    if options.corrupted:
        try_corrupted(options.corrupted)
        return
    start = time.perf_counter()
    load_loops()
    sys.stderr.write(f"compiled loops ready after {time.perf_counter() - start:.1f} s\n")
    out = options.json.open("w", encoding="utf-8") if options.json else sys.stdout
    lines = own_lines(options) if options.own or options.parts else instance_lines(options)
    for line in lines:
        out.write(json.dumps(line) + "\n")
        out.flush()


def instance_lines(options: argparse.Namespace) -> Iterator[dict[str, Any]]:
    """Yield one line for every instance of the files named."""
    rotate = options.rotate == "yes"
    ours, theirs = 0, np.zeros(0, dtype=np.int64)
    for file, instance in instances(options.instances):
        start = time.process_time()
        if "capacity" in instance:
            value, bound = solve_lengths(instance, options.seconds)
        else:
            value, bound = solve_sheets(instance, rotate, options.seconds)
        line = {
            "file": file, "name": instance["name"], "value": value, "bound": bound,
            "proven": value == bound, "seconds": round(time.process_time() - start, 3),
        }  # fmt: skip
        if options.rivals and "capacity" not in instance:
            from cutting_halves import rivals

            counts = np.array(rivals.by_setting(instance, rotate))
            line |= {"plain": int(counts[rivals.PLAIN]), "best_of_324": int(counts.min())}
            ours, theirs = ours + value, np.vstack([theirs.reshape(-1, len(counts)), counts])
        yield line
    if theirs.size:
        say_rivals(ours, theirs)


def say_rivals(ours: int, theirs: np.ndarray) -> None:
    """Say what the library reaches in total: plainly, by one setting for all, by the best for each instance anew.

    Args:
        ours: sheets of our plans.
        theirs: sheets of its plans, a row an instance, a column a setting.
    """
    from cutting_halves import rivals

    totals = theirs.sum(axis=0)
    best = int(totals.argmin())
    for what, total in (
        ("at its plain setting", totals[rivals.PLAIN]),
        (f"at the one setting best for all ({', '.join(rivals.SETTINGS[best])})", totals[best]),
        ("at the best setting for each instance anew", theirs.min(axis=1).sum()),
    ):
        sys.stderr.write(f"library {what}: {total}, {100 * (total / ours - 1):+.2f} % of our {ours}\n")


def own_lines(options: argparse.Namespace) -> Iterator[dict[str, Any]]:
    """Yield one line for every furniture job; at the end say the median and the greatest gap."""
    gaps: list[float] = []
    for number, parts in [*((i, None) for i in range(options.own)), *((1, parts) for parts in options.parts)]:
        start = time.process_time()
        name, value, bound, first = solve_own(number, parts, options.seconds)
        gaps.append(100 * (value - bound) / value if value else 0.0)
        yield {
            "file": "own", "name": name, "value": value, "bound": bound, "proven": value == bound,
            "seconds": round(time.process_time() - start, 3), "first_seconds": round(first, 3),
            "gap_pct": round(gaps[-1], 2),
        }  # fmt: skip
    sys.stderr.write(f"gap: median {statistics.median(gaps):.2f} %, greatest {max(gaps):.2f} %\n")


def try_corrupted(count: int) -> None:
    """Show the checker plans made wrong on purpose; say how many of them it accepted."""
    sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
    import corrupted_plans

    accepted = 0
    for number in range(count):
        _, wanted, laid = corrupted_plans.corrupted(number)
        accepted += not corrupted_plans.faults(wanted, laid)
    sys.stdout.write(f"{count} corrupted plans, {accepted} accepted\n")


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
